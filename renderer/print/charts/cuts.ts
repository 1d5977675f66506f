import { Refusal } from '../../words';

/** A stretch along one side of a tray, from the tray's corner, mm. */
export interface Stretch {
  from: number;
  to: number;
}

/**
 * Cuts a stretch into ones no longer than a page has room for, between pots where that can be;
 * where it cannot (staggered rows), neighbours overlap by a pot, so that every pot is whole on one
 * of them. `centres` are the middles of the pots along this side.
 */
export function cutsBetween(
  whole: Stretch,
  most: number,
  centres: readonly number[],
  diameter: number,
): Stretch[] {
  if (most <= diameter && whole.to - whole.from > most + 1e-9) {
    throw new Refusal(
      'cutting for paper: found pots wider than the page has room for; a smaller scale is expected',
    );
  }
  const sorted = [...new Set(centres)].sort((a, b) => a - b);
  const gaps: number[] = [];
  for (let i = 1; i < sorted.length; i++) {
    const [before, after] = [sorted[i - 1] ?? 0, sorted[i] ?? 0];
    if (after - before >= diameter) gaps.push((before + after) / 2);
  }
  const stretches: Stretch[] = [];
  let { from } = whole;
  while (whole.to - from > most + 1e-9) {
    const end = from + most;
    const gap = gaps.filter((at) => at > from + diameter && at <= end).at(-1);
    const to = gap ?? end;
    stretches.push({ from, to });
    from = gap ?? end - diameter;
  }
  return [...stretches, { from, to: whole.to }];
}
