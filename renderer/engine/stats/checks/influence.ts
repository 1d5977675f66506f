import { Refusal } from '../../../words';
import { num } from '../../entry';

/** How one row of a least-squares fit stands apart. null: the fit cannot be judged without it. */
export interface Influence {
  /** Residual over its standard error from a fit without the row (t on one df less). */
  studentised: number | null;
  /** Cook's (1977) distance: how far all coefficients move when the row is left out. */
  cook: number | null;
}

/**
 * Deletion residuals and Cook's distances from residuals and leverages of a least-squares fit:
 * tᵢ = eᵢ / (s₍ᵢ₎ √(1 − hᵢ)), Dᵢ = eᵢ² hᵢ / (p s² (1 − hᵢ)²) (Cook & Weisberg 1982, ch. 2–3).
 * `df` is the residual df, `rank` the number of coefficients estimated.
 */
export function influence(
  residuals: readonly number[],
  leverage: readonly number[],
  rank: number,
  df: number,
): Influence[] {
  if (leverage.length !== residuals.length) {
    throw new Refusal(
      `influence: ${residuals.length} residuals but ${leverage.length} leverages; expected as many`,
    );
  }
  const ss = residuals.reduce((sum, e) => sum + e * e, 0);
  const ms = ss / df;
  return residuals.map((e, i) => {
    const rest = 1 - num(leverage, i);
    if (rest < 1e-10 || df < 2 || !(ss > 0)) return { studentised: null, cook: null };
    const without = (ss - (e * e) / rest) / (df - 1);
    return {
      studentised: without > 1e-14 * ms ? e / Math.sqrt(without * rest) : null,
      cook: (e * e * (1 - rest)) / (rank * ms * rest * rest),
    };
  });
}
