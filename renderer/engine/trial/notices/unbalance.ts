import type { Notice } from '../../../../shared-types/notice';
import type { Site } from '../site';
import { average } from './confounding';
import type { LevelsAtPots } from './confounding';
import { figure, list, percent } from '../../../words';
import { trialNotice } from '../trialNotice';

// Edge plants differ from inner ones. A fair draw of a few dozen pots a level stays well below.
const EDGE_GAP = 0.35;
// In standard deviations of the starting value within levels.
const START_GAP_SD = 0.5;
const FEWEST_POTS = 4;

/** Levels of pot factors of which one has many more edge pots than another. */
export function edgeNotices(site: Site, levelsAt: LevelsAtPots): Notice[] {
  return site.trial.factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    if (!levels || factor.unit !== 'pot') return [];
    const shares = factor.levels.flatMap((level) => {
      const own = site.pots.filter((_, i) => levels[i] === level.id);
      if (own.length < FEWEST_POTS) return [];
      return [{ name: level.name, share: own.filter((pot) => pot.onEdge).length / own.length }];
    });
    if (shares.length < 2) return [];
    const gap = Math.max(...shares.map((s) => s.share)) - Math.min(...shares.map((s) => s.share));
    if (gap <= EDGE_GAP) return [];
    return [
      trialNotice(
        'edge-share-unequal',
        'warn',
        [`factor:${factor.id}`],
        `The levels of ${factor.name} differ in how many of their pots stand at the edge of a tray: ${list(shares.map((s) => `${s.name} ${percent(s.share)}`))}.`,
        'Ask the draw to balance position and draw again, or make the outer ring guard pots.',
      ) satisfies Notice,
    ];
  });
}

/** Factors whose levels started with plants of different size. */
export function startSizeNotices(site: Site, levelsAt: LevelsAtPots): Notice[] {
  const { startByPot } = site;
  if (!startByPot) return [];
  return site.trial.factors.flatMap((factor) => {
    const levels = levelsAt(factor);
    if (!levels || factor.kind === 'fixed') return [];
    const groups = factor.levels.flatMap((level) => {
      const values = site.pots.flatMap((pot, i) => {
        const value = startByPot.get(pot.id);
        return levels[i] === level.id && value !== undefined ? [value] : [];
      });
      if (values.length < FEWEST_POTS) return [];
      return [{ name: level.name, values, mean: average(values) }];
    });
    if (groups.length < 2) return [];
    const residuals = groups.flatMap((g) => g.values.map((value) => (value - g.mean) ** 2));
    const sd = Math.sqrt(
      residuals.reduce((sum, r) => sum + r, 0) / (residuals.length - groups.length),
    );
    const gap = Math.max(...groups.map((g) => g.mean)) - Math.min(...groups.map((g) => g.mean));
    if (sd <= 0 || gap / sd <= START_GAP_SD) return [];
    return [
      trialNotice(
        'start-size-unbalanced',
        'warn',
        [`factor:${factor.id}`],
        `The levels of ${factor.name} started unequal: ${list(groups.map((g) => `${g.name} ${figure(g.mean)}`))} on average, ${figure(gap / sd, 2)} standard deviations apart.`,
        'Give plants to pots by size class and draw again, or take the starting value as a covariate.',
      ) satisfies Notice,
    ];
  });
}
