import type { Mend, Notice, Severity } from '../../../../shared-types/notice';
import { unitWords, type Factor } from '../../../../shared-types/trial/trial';
import { levelGap } from '../fit/levelGaps';
import { connectedParts, partitionBy } from '../site/partition';
import type { Site } from '../site/site';
import { figure, list, percent } from '../../../words';
import { trialNotice } from '../trialNotice';
import type { LevelsAtPots } from './levelsAtPots';
import { limitOf, rareWords, type Limits } from './unbalance';

/** Pairs of factors whose levels always go together, so that their effects can't be parted. */
export function confoundedFactors(site: Site, levelsAt: LevelsAtPots): Notice[] {
  const { factors } = site.trial;
  const known = factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    if (!levels || levels.includes(null)) return [];
    const partition = partitionBy(levels.map((level) => level ?? ''));
    return partition.count > 1 ? [{ factor, partition, levels }] : [];
  });
  const notices: Notice[] = [];
  known.forEach((a, i) => {
    for (const b of known.slice(i + 1)) {
      const parts = connectedParts(a.partition, b.partition);
      if (parts < 2) continue;
      const full = parts === Math.min(a.partition.count, b.partition.count);
      notices.push(
        trialNotice(
          'factors-confounded',
          full ? 'stop' : 'warn',
          [`factor:${a.factor.id}`, `factor:${b.factor.id}`],
          full
            ? `${a.factor.name} and ${b.factor.name} go together: ${onlyWith(a, b)}. Whatever differs could be either.`
            : `${a.factor.name} and ${b.factor.name} partly go together: their levels fall into ${parts} sets that never mix.`,
          `Let every level of ${a.factor.name} occur with every level of ${b.factor.name}, or treat the two as one factor.`,
        ),
      );
    }
  });
  return notices;
}

/** `coir stands only with bright, bark only with dim`: at most three levels, as they are listed. */
function onlyWith(a: Stood, b: Stood): string {
  const said = a.factor.levels.flatMap(({ id, name }) => {
    const beside = b.factor.levels.filter((level) =>
      a.levels.some((at, i) => at === id && b.levels[i] === level.id),
    );
    return beside.length === 0 ? [] : [{ name, with: list(beside.map((level) => level.name)) }];
  });
  const parts = said
    .slice(0, 3)
    .map((one, i) => `${one.name} ${i === 0 ? 'stands ' : ''}only with ${one.with}`);
  return `${parts.join(', ')}${said.length > 3 ? ', and so on' : ''}`;
}

interface Stood {
  factor: Factor;
  /** Its level at each pot. */
  levels: readonly (string | null)[];
}

// Levels whose mean light differs by more than a tenth: in most crops growth follows light closely.
const LIGHT_GAP = 0.1;

/**
 * Factors whose levels stand in different light. A drawn factor is judged by the light at the draw
 * (`site`), and only beyond what redraws give; one placed by hand by the light as it is (`ppfdNow`).
 */
export function confoundedWithLight(
  site: Site,
  levelsAt: LevelsAtPots,
  limits: Limits,
  ppfdNow: readonly number[] | null,
): Notice[] {
  return site.trial.factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    const byHand = factor.kind === 'fixed';
    const ppfd = byHand ? ppfdNow : site.ppfd;
    if (!levels || !ppfd || factor.appliedThrough === 'light') return [];
    const mean = average(ppfd);
    const found = levelGap(factor, levels, ppfd);
    if (!found || mean <= 0 || found.gap / mean <= LIGHT_GAP) return [];
    const limit = byHand ? null : limitOf(limits, factor, 'light');
    if (limit !== null && found.gap <= limit) return [];
    const listed = list(found.levels.map((m) => `${m.name} ${figure(m.mean)}`));
    const apart = `The levels of ${factor.name} stand in different light: ${listed} µmol m⁻² s⁻¹ on average, ${percent(found.gap / mean)} of the mean apart.`;
    const { severity, why, remedy, mend } = lightWords(factor, limit);
    return [
      trialNotice(
        'treatment-confounded-with-light',
        severity,
        [`factor:${factor.id}`],
        `${apart}${why}`,
        remedy,
        mend,
      ),
    ];
  });
}

function lightWords(
  factor: Factor,
  limit: number | null,
): { severity: Severity; why: string; remedy: string; mend?: Mend } {
  const { one, many } = unitWords[factor.unit];
  // Where it is not said, light is often the very thing that a factor on shelves sets.
  if (factor.appliedThrough === undefined && (factor.unit === 'shelf' || factor.unit === 'bay')) {
    return {
      severity: 'note',
      why: '',
      remedy: `If the light is what ${factor.name} sets, say that it is applied through the lamps. If not, even out the lamps or dim the brighter ${many}.`,
      mend: 'apply-through-lamps',
    };
  }
  if (factor.kind === 'fixed') {
    const brought = factor.appliedThrough === 'plant';
    return {
      severity: 'stop',
      why: ` Nobody shuffled them, so nothing tells ${factor.name} from the light.`,
      remedy: brought
        ? `Shuffle which ${one} gets which level of ${factor.name}, or even out the lamps until the levels stand in like light.`
        : `Have ${factor.name} shuffled over the ${many}, or even out the lamps until the levels stand in like light.`,
      mend: 'shuffle',
    };
  }
  return {
    severity: 'warn',
    why: rareWords(limit, `${figure(limit ?? 0)} µmol m⁻² s⁻¹`),
    remedy:
      'Choose blocks along the light, ask the draw to balance light, even out the lamps, or take light as a covariate.',
  };
}

export const average = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
