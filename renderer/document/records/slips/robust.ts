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

/**
 * The median of values in any order, none of them NaN; NaN of none. Puts them into another order: of
 * thousands of values the middle is found in a tenth of the time that sorting takes (Hoare's FIND).
 */
export function medianInPlace(values: Float64Array): number {
  const half = values.length >> 1;
  const upper = smallest(values, half);
  if (values.length % 2 === 1) return upper;
  let lower = -Infinity;
  for (let i = 0; i < half; i++) lower = Math.max(lower, values[i] ?? NaN);
  return half === 0 ? NaN : (lower + upper) / 2;
}

/** The value that stands at `k` once all are in ascending order; smaller ones end up before it. */
function smallest(values: Float64Array, k: number): number {
  let [from, to] = [0, values.length - 1];
  while (from < to) {
    const pivot = values[(from + to) >> 1] ?? NaN;
    let [i, j] = [from, to];
    while (i <= j) {
      while ((values[i] ?? NaN) < pivot) i += 1;
      while ((values[j] ?? NaN) > pivot) j -= 1;
      if (i > j) break;
      const swapped = values[i] ?? NaN;
      values[i] = values[j] ?? NaN;
      values[j] = swapped;
      i += 1;
      j -= 1;
    }
    if (k <= j) to = j;
    else if (k >= i) from = i;
    else break;
  }
  return values[k] ?? NaN;
}
