import { Refusal } from '../../words';

/** How even a set of light values is. Ratios are null where the light is zero throughout. */
export interface Evenness {
  n: number;
  mean: number;
  min: number;
  max: number;
  minToMean: number | null;
  minToMax: number | null;
  /** 100 · s / mean with n − 1; null for fewer than two values. */
  cvPercent: number | null;
  /** Christiansen's coefficient, 100 (1 − Σ|x − mean| / (n · mean)). */
  christiansenPercent: number | null;
  /** Share of the values within ±10 % of the mean. */
  shareWithin10Percent: number;
}

/**
 * Evenness of light values in any one unit (PPFD, DLI, lux), zero or more each. Throws when there
 * are none. The figures depend on where the values were taken: print the grid beside them.
 */
export function evenness(values: ArrayLike<number>): Evenness {
  const n = values.length;
  if (n === 0) throw new Refusal('evenness of no values: at least one value is expected');
  let sum = 0;
  let min = Infinity;
  let max = -Infinity;
  for (let i = 0; i < n; i++) {
    const x = values[i] ?? NaN;
    if (!(x >= 0 && x < Infinity)) {
      throw new Refusal(`value ${i + 1} is ${x}: a finite value of zero or more is expected`);
    }
    sum += x;
    if (x < min) min = x;
    if (x > max) max = x;
  }
  const mean = sum / n;
  let squares = 0;
  let absolute = 0;
  let within = 0;
  // The bound belongs to the band; rounding must not push it out.
  const band = 0.1 * mean * (1 + 1e-12);
  for (let i = 0; i < n; i++) {
    const deviation = Math.abs((values[i] ?? 0) - mean);
    squares += deviation * deviation;
    absolute += deviation;
    if (deviation <= band) within++;
  }
  const lit = mean > 0;
  return {
    n,
    mean,
    min,
    max,
    minToMean: lit ? min / mean : null,
    minToMax: lit ? min / max : null,
    cvPercent: lit && n > 1 ? (100 * Math.sqrt(squares / (n - 1))) / mean : null,
    christiansenPercent: lit ? 100 * (1 - absolute / (n * mean)) : null,
    shareWithin10Percent: within / n,
  };
}
