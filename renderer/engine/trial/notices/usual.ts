import type { Layout } from '../../../../shared-types/layout';
import type { Notice } from '../../../../shared-types/notice';
import type { Trial } from '../../../../shared-types/trial/trial';
import { noticesOfStage, percent, plural } from '../../../words';
import { trialNotice } from '../trialNotice';

// From 1 in 1000 to 1 in 10: what readers of a trial are used to.
const USUAL_ALPHA = { least: 0.001, most: 0.1 };
// A handful of broken pots is no new layout.
const MOST_EXCHANGED = 0.1;

/** A risk of a false alarm that a reader will not expect. */
export function alphaNotices({ alpha }: Trial): Notice[] {
  if (alpha >= USUAL_ALPHA.least && alpha <= USUAL_ALPHA.most) return [];
  const risk = percent(alpha, alpha < 0.01 ? 2 : 0);
  const why =
    alpha > USUAL_ALPHA.most
      ? 'So often a treatment that does nothing would be called a difference'
      : 'Only a very large difference can pass that';
  return [
    trialNotice(
      'alpha-unusual',
      'warn',
      ['plan'],
      `A risk of a false alarm of ${risk} is accepted. ${why}; 5 % is usual.`,
      'Take 5 %, or accept this with the reason, which the report prints.',
    ),
  ];
}

const layoutNotice = noticesOfStage('layout');

/** More pots exchanged by hand than breakage explains: then chance no longer laid the treatments out. */
export function swapNotices({ swaps, assignments }: Layout): Notice[] {
  const moved = new Set(swaps.flatMap(({ a, b }) => [a, b]));
  if (moved.size <= MOST_EXCHANGED * assignments.length) return [];
  return [
    layoutNotice(
      'many-swaps',
      'warn',
      ['plan'],
      `${moved.size} of ${plural(assignments.length, 'pot')} were exchanged by hand after the draw. Whoever chose them may have favoured a treatment, and tests that rest on the shuffle no longer hold.`,
      'Draw again where nothing is planted yet; else state in the report who chose the pots, and why.',
    ),
  ];
}
