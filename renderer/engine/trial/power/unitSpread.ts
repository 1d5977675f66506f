import { chiSquareQuantile, fQuantile } from '../../stats/distributions';
import { Refusal } from '../../../words';

/** Two lines of an analysis of variance: between units, and within them. */
export interface UnitMeanSquares {
  msUnits: number;
  dfUnits: number;
  msWithin: number;
  dfWithin: number;
  /** Values a unit; n₀ where the units differ in size. */
  perUnit: number;
}

/**
 * Upper confidence limit of the variance between units, so that an estimate of zero from a few units
 * is not taken for none:
 *
 *   SS_units (1 − F_L / F) / (n χ²_L),
 *
 * F = MS_units / MS_within, F_L and χ²_L the lower (1 − confidence) quantiles on its df (Williams
 * 1962, Biometrika 49, 278–281; Searle, Casella & McCulloch 1992, Variance Components, 3.6). Exact
 * where the variance within is known, a little wide elsewhere. 0 where even F_L lies above F.
 * In the square of the unit of the values. Throws without df.
 */
export function unitVarianceUpper(of: UnitMeanSquares, confidence = 0.95): number {
  const { msUnits, dfUnits, msWithin, dfWithin, perUnit } = of;
  if (!(dfUnits >= 1 && dfWithin >= 1 && perUnit > 0)) {
    throw new Refusal(
      `unit variance: found ${dfUnits} and ${dfWithin} df, ${perUnit} values a unit; expected at least 1 each`,
    );
  }
  const risk = 1 - confidence;
  const least = fQuantile(risk, dfUnits, dfWithin);
  const above = dfUnits * (msUnits - least * msWithin);
  return Math.max(0, above / (perUnit * chiSquareQuantile(risk, dfUnits)));
}

/** n₀ = (N − Σn²/N) / (k − 1), what a unit of unequal size counts for. */
export function meanUnitSize(sizes: readonly number[]): number {
  const all = sizes.reduce((sum, size) => sum + size, 0);
  const squares = sizes.reduce((sum, size) => sum + size ** 2, 0);
  return sizes.length > 1 ? (all - squares / all) / (sizes.length - 1) : all;
}
