import type { FitResult } from '../../../../shared-types/fit';
import { chiSquareQuantile, chiSquareQuantileUpper } from '../distributions';

/** An estimated variance with the df that its own uncertainty gives it, where a model tells them. */
export interface VarianceEstimate {
  readonly unit: string;
  readonly variance: number;
  readonly df?: number | null;
}

/**
 * Variances with intervals df s²/χ² after Satterthwaite (1946, Biometrics Bulletin 2, 110–114):
 * df = 2 s⁴ / Var(s²). Exact for a mean square; for a difference of mean squares approximate, and
 * wide where df are few. A variance that is not above zero has no interval.
 */
export function varianceRows(
  rows: readonly VarianceEstimate[],
  confidence: number,
): FitResult['variance'] {
  const tail = (1 - confidence) / 2;
  return rows.map(({ unit, variance, df = null }) => {
    if (df === null || !(df > 0) || !Number.isFinite(df) || !(variance > 0)) {
      return { unit, variance, df: null, lower: null, upper: null };
    }
    const sum = df * variance;
    const upper = sum / chiSquareQuantile(tail, df);
    const lower = sum / chiSquareQuantileUpper(tail, df);
    return { unit, variance, df, lower: finite(lower), upper: finite(upper) };
  });
}

const finite = (limit: number): number | null => (Number.isFinite(limit) ? limit : null);
