/** Scales the median absolute deviation to the standard deviation of a normal distribution. */
export const MAD_TO_SD = 1.4826;

/** The median of values in ascending order; NaN of none. */
export function medianOfSorted(sorted: ArrayLike<number>): number {
  const half = sorted.length >> 1;
  const upper = sorted[half] ?? NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? NaN) + upper) / 2;
}

/** The median of the others, where `value` is one of the values in ascending order. */
export function medianWithout(sorted: ArrayLike<number>, value: number): number {
  let [from, to] = [0, sorted.length];
  while (from < to) {
    const half = (from + to) >> 1;
    if ((sorted[half] ?? Infinity) < value) from = half + 1;
    else to = half;
  }
  const at = (i: number) => sorted[i < from ? i : i + 1] ?? NaN;
  const others = sorted.length - 1;
  const half = others >> 1;
  return others % 2 === 1 ? at(half) : (at(half - 1) + at(half)) / 2;
}
