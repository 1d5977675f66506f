import type { BalanceLimit, BalanceMeasure } from '../../../../shared-types/layout';
import type { Notice } from '../../../../shared-types/notice';
import type { Factor } from '../../../../shared-types/trial/trial';
import { FEWEST_POTS } from '../figures/balanceLimits';
import { levelGap } from '../fit/levelGaps';
import type { Site } from '../site/site';
import type { LevelsAtPots } from './levelsAtPots';
import { figure, list, percent } from '../../../words';
import { trialNotice } from '../trialNotice';

// Less can do little to the answer, however rare it is among draws.
const EDGE_GAP = 0.2;
// In standard deviations of the starting value within levels.
const START_GAP_SD = 0.5;
// Judges a layout that keeps no redraws; a fair draw of a few dozen pots a level stays below.
const EDGE_GAP_UNDRAWN = 0.35;

export type Limits = readonly BalanceLimit[] | undefined;

/** The gap that 99 of 100 redraws keep to; null where the layout keeps none for this factor. */
export function limitOf(limits: Limits, factor: Factor, measure: BalanceMeasure): number | null {
  const found = limits?.find((one) => one.factorId === factor.id && one.measure === measure);
  return found?.gap ?? null;
}

/** The second half of a sentence on how rare such a draw is. */
export const rareWords = (limit: number | null, said: string): string =>
  limit === null ? '' : ` 99 of 100 draws of this design stay within ${said}.`;

/** Levels of pot factors of which one has many more edge pots than another. */
export function edgeNotices(site: Site, levelsAt: LevelsAtPots, limits: Limits): Notice[] {
  const onEdge = site.pots.map((pot) => (pot.onEdge ? 1 : 0));
  return site.trial.factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    if (!levels || factor.unit !== 'pot') return [];
    const found = levelGap(factor, levels, onEdge, FEWEST_POTS);
    const limit = limitOf(limits, factor, 'edge');
    if (!found || found.gap <= Math.max(limit ?? EDGE_GAP_UNDRAWN, EDGE_GAP)) return [];
    const shares = list(found.levels.map(({ name, mean }) => `${name} ${percent(mean)}`));
    return [
      trialNotice(
        'edge-share-unequal',
        'warn',
        [`factor:${factor.id}`],
        `The levels of ${factor.name} differ in how many of their pots stand at the edge of a tray: ${shares}.${rareWords(limit, percent(limit ?? 0))} Plants at the edge often grow differently.`,
        'Ask the draw to balance position and draw again, or make the outer ring guard pots.',
      ),
    ];
  });
}

/** Factors whose levels started with plants of different size. */
export function startSizeNotices(site: Site, levelsAt: LevelsAtPots, limits: Limits): Notice[] {
  const { startByPot } = site;
  if (!startByPot) return [];
  const starts = site.pots.map((pot) => startByPot.get(pot.id) ?? null);
  return site.trial.factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    if (!levels || factor.kind === 'fixed') return [];
    const found = levelGap(factor, levels, starts, FEWEST_POTS);
    if (!found || found.sd <= 0) return [];
    const apart = found.gap / found.sd;
    const limit = limitOf(limits, factor, 'start');
    if (apart <= Math.max(limit ?? START_GAP_SD, START_GAP_SD)) return [];
    const means = list(found.levels.map(({ name, mean }) => `${name} ${figure(mean)}`));
    return [
      trialNotice(
        'start-size-unbalanced',
        'warn',
        [`factor:${factor.id}`],
        `The levels of ${factor.name} started unequal: ${means} on average, ${figure(apart, 2)} standard deviations apart.${rareWords(limit, figure(limit ?? 0, 2))} Whatever differs at harvest may have differed from the start.`,
        'Give plants to pots by size class and draw again, or take the starting value as a covariate.',
      ),
    ];
  });
}
