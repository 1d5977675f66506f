import type { Notice } from '../../../../shared-types/notice';
import type { Factor } from '../../../../shared-types/trial';
import { connectedParts, partitionBy } from '../partition';
import { givenLevels } from '../site';
import type { Site } from '../site';
import { figure, list, percent } from '../../../words';
import { trialNotice } from '../trialNotice';

/** Level id of a factor at every measured pot; null while it is not known. */
export type LevelsAtPots = (factor: Factor) => (string | null)[] | null;

/** Levels from the drawn layout where there is one, else those of given factors only. */
export function levelsAtPots(
  site: Site,
  levelsOf: ReadonlyMap<string, Readonly<Record<string, string>>> | null,
): LevelsAtPots {
  return (factor) => {
    if (levelsOf) return site.pots.map((pot) => levelsOf.get(pot.id)?.[factor.id] ?? null);
    return factor.kind === 'fixed' ? givenLevels(site, factor) : null;
  };
}

/** Pairs of factors whose levels always go together, so that their effects can't be parted. */
export function confoundedFactors(site: Site, levelsAt: LevelsAtPots): Notice[] {
  const { factors } = site.trial;
  const known = factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    if (!levels || levels.includes(null)) return [];
    const partition = partitionBy(levels.map((level) => level ?? ''));
    return partition.count > 1 ? [{ factor, partition }] : [];
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
            ? `${a.factor.name} and ${b.factor.name} go together: a level of one is only ever found with certain levels of the other, so that a difference can't be laid to either.`
            : `${a.factor.name} and ${b.factor.name} partly go together: their levels fall into ${parts} sets that never mix.`,
          `Let every level of ${a.factor.name} occur with every level of ${b.factor.name}, or treat the two as one factor.`,
        ),
      );
    }
  });
  return notices;
}

// Levels whose mean light differs by more than a tenth: in most crops growth follows light closely.
const LIGHT_GAP = 0.1;

/** Factors whose levels stand in different light. */
export function confoundedWithLight(site: Site, levelsAt: LevelsAtPots): Notice[] {
  const { ppfd } = site;
  if (!ppfd) return [];
  const mean = average(ppfd);
  if (mean <= 0) return [];
  return site.trial.factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    if (!levels) return [];
    const means = factor.levels.flatMap((level) => {
      const own = ppfd.filter((_, i) => levels[i] === level.id);
      return own.length > 0 ? [{ name: level.name, ppfd: average(own) }] : [];
    });
    if (means.length < 2) return [];
    const gap =
      (Math.max(...means.map((m) => m.ppfd)) - Math.min(...means.map((m) => m.ppfd))) / mean;
    if (gap <= LIGHT_GAP) return [];
    const through = factor.appliedThrough;
    if (through === 'light') return [];
    // Where it is not said, light is often the very thing that a factor on shelves sets.
    const meant = through === undefined && factor.unit === 'shelf';
    const byHand = factor.kind === 'fixed' && !meant;
    const listed = list(means.map((m) => `${m.name} ${figure(m.ppfd)}`));
    return [
      trialNotice(
        'treatment-confounded-with-light',
        meant ? 'note' : byHand ? 'stop' : 'warn',
        [`factor:${factor.id}`],
        `The levels of ${factor.name} stand in different light: ${listed} µmol m⁻² s⁻¹ on average, ${percent(gap)} of the mean apart.`,
        meant
          ? `If the light is what ${factor.name} sets, accept this with that reason; if not, even out the lamps or dim the brighter shelves.`
          : byHand
            ? `Have the levels of ${factor.name} shuffled within blocks along the light, or even out the lamps: placed by hand, nothing tells it from the light.`
            : 'Choose blocks along the light, ask the draw to balance light, even out the lamps, or take light as a covariate.',
      ) satisfies Notice,
    ];
  });
}

export const average = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
