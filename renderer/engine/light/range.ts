/** Half of an interval that holds 95 of 100, in standard deviations of a normal. */
export const COVERAGE = 1.96;

const HALF_TO_DEVIATION = Math.sqrt((1 / 3 + 1 / COVERAGE ** 2) / 2);

/**
 * Standard deviation of a figure known within ± `half`, in the same unit. Its ends may be limits with
 * every figure between alike (half / √3; JCGM 100:2008, 4.3.7), or hold 95 of 100 of a normal (half /
 * 1.96; 4.3.4). Labels, makers and handbooks seldom say which: both are taken as likely, which makes
 * the variance the mean of the two.
 */
export const deviationOf = (half: number): number => half * HALF_TO_DEVIATION;

/** The ± within which a figure is known that has this standard deviation. */
export const halfRangeOf = (deviation: number): number => deviation / HALF_TO_DEVIATION;

/**
 * Half of the interval that holds 95 of 100 of a sum, in its standard deviations, by the share of its
 * variance that comes of one such range while the rest is normal: a single range has no long tails
 * (JCGM 100:2008, G.2.2 and table G.1).
 */
const COVERAGES = [
  [0, 1.96],
  [0.3, 1.9532],
  [0.5, 1.9366],
  [0.7, 1.9032],
  [0.8, 1.8763],
  [0.9, 1.8361],
  [0.95, 1.8057],
  [1, 1.7619],
] as const;

export function coverageFactor(shareOfOne: number): number {
  const next = COVERAGES.findIndex(([share]) => share >= shareOfOne);
  const [to, above] = COVERAGES[next] ?? COVERAGES[COVERAGES.length - 1] ?? [1, COVERAGE];
  const [from, below] = COVERAGES[next - 1] ?? [to, above];
  return to > from ? below + ((shareOfOne - from) / (to - from)) * (above - below) : above;
}

/** Half of the interval that holds 95 of 100: of parts that each come of one range, and the rest. */
export function halfInterval(deviations: readonly number[], restVariance: number): number {
  const squares = deviations.map((value) => value ** 2);
  const variance = squares.reduce((sum, square) => sum + square, Math.max(0, restVariance));
  return variance > 0
    ? coverageFactor(Math.max(0, ...squares) / variance) * Math.sqrt(variance)
    : 0;
}
