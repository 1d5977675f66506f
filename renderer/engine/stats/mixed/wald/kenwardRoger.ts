import { choleskyInPlace, solveLowerRows } from '../cholesky';
import { dotRange, selfProduct, timesTransposed } from '../linalg';
import { jointSpread, satterthwaiteDf } from './df';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

/**
 * λ and df of the scaled F, from A1 and A2 of Kenward & Roger (1997), Biometrics 53, 983–997.
 * Without any uncertainty in the variances both vanish: λ = 1 and df = Infinity.
 */
function kenwardRogerScale(q: number, a1: number, a2: number): { scale: number; df: number } {
  if (!(a2 > 0)) return { scale: 1, df: Infinity };
  const b = (a1 + 6 * a2) / (2 * q);
  const g = ((q + 1) * a1 - (q + 4) * a2) / ((q + 2) * a2);
  const c = 3 * q + 2 * (1 - g);
  const v0 = 1 + (g / c) * b;
  const v1 = 1 - ((q - g) / c) * b;
  const v2 = 1 - ((q + 2 - g) / c) * b;
  const e = 1 - a2 / q;
  // With hardly any units the denominators may vanish together; then they cancel.
  const ratio = Math.abs(e) < 1e-10 && Math.abs(v1) < 1e-10 ? 1 : e / v1;
  const rho = (ratio * ratio * v0) / (q * v2);
  const df = 4 + (q + 2) / (q * rho - 1);
  return { scale: Math.abs(df - 2) < 1e-2 ? 1 : (df * e) / (df - 2), df };
}

/** The scaled F of `q` contrasts turned as in `independentRows`, with estimates `t`. */
export function kenwardRogerF(
  q: number,
  t: Float64Array,
  inner: readonly Float64Array[],
  uncertainty: Float64Array,
  turned: Float64Array,
  covariance: Float64Array,
  rank: number,
): { statistic: number; dfError: number } {
  const traces = Float64Array.from(inner, (g) => {
    let trace = 0;
    for (let i = 0; i < q; i++) trace += real(g, i * q + i);
    return trace;
  });
  const m = inner.length;
  let a2 = 0;
  inner.forEach((left, i) => {
    inner.forEach((right, j) => {
      a2 += real(uncertainty, i * m + j) * dotRange(left, 0, right, 0, q * q);
    });
  });
  const matched = kenwardRogerScale(q, jointSpread(uncertainty, traces, traces), a2);
  // With hardly any units there is no F with these moments; its df are then those of its parts.
  const { scale, df } =
    matched.df > 0 && matched.scale > 0
      ? matched
      : { scale: 1, df: satterthwaiteDf(q, inner, uncertainty) };
  const adjusted = timesTransposed(
    turned,
    q,
    timesTransposed(turned, q, covariance, rank, rank),
    q,
    rank,
  );
  if (!choleskyInPlace(adjusted, q)) {
    throw new Refusal(
      'kenward-roger: the corrected covariance of the contrasts is not positive definite',
    );
  }
  const solved = t.slice();
  solveLowerRows(adjusted, q, solved, 1);
  const statistic = (scale * real(selfProduct(solved, 1, q), 0)) / q;
  return { statistic, dfError: df };
}
