/** Below this share of the values, what is left after centring is how they were written. */
const REPRESENTATION = 1e-13;

/**
 * A covariate less its mean. Far from zero it would be nearly proportional to the intercept, and
 * the figures would lose as many digits as it lies standard deviations away. A covariate that does
 * not vary becomes all zeros.
 */
export function centre(values: Float64Array): { values: Float64Array; mean: number } {
  let largest = 0;
  let sum = 0;
  for (const value of values) {
    largest = Math.max(largest, Math.abs(value));
    sum += value;
  }
  const first = sum / values.length;
  // A second pass takes away what the first lost to rounding.
  const mean = first + values.reduce((rest, value) => rest + (value - first), 0) / values.length;
  const centred = values.map((value) => value - mean);
  const noise = centred.every((value) => Math.abs(value) <= REPRESENTATION * largest);
  return { values: noise ? centred.fill(0) : centred, mean };
}
