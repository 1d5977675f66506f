import { factorise } from '../../linear';
import { choleskyInPlace, solveLowerRows } from '../../mixed/cholesky';
import { denseCovariance, denseTrends, type KnownCovariance } from '../covariance';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

export interface Projection {
  /** n × n. */
  readonly p: Float64Array;
  readonly py: Float64Array;
  /** Diagonal of V⁻¹. */
  readonly size: Float64Array;
  /** Of the columns that are taken out. */
  readonly rank: number;
}

/**
 * P = V⁻¹ − V⁻¹X(XᵀV⁻¹X)⁻XᵀV⁻¹, P y and the diagonal of V⁻¹, X the fixed columns and trends. Throws
 * where V is singular.
 */
export function projection(
  covariance: KnownCovariance,
  fixed: { columns: number; data: Float64Array },
  y: Float64Array,
): Projection {
  const n = y.length;
  const trends = denseTrends(covariance, n);
  const factor = denseCovariance(covariance, n);
  if (!choleskyInPlace(factor, n)) {
    throw new Refusal(
      'randomisation test: the correlation of neighbours leaves no variation between them to judge by',
    );
  }
  // Row k holds column k of L⁻¹ times the k-th of: the unit vectors, then the columns that stay.
  const inverse = new Float64Array(n * n);
  for (let i = 0; i < n; i++) inverse[i * n + i] = 1;
  solveLowerRows(factor, n, inverse, n);
  const kept = new Float64Array((fixed.columns + trends.length) * n);
  for (let j = 0; j < fixed.columns; j++) {
    for (let i = 0; i < n; i++) kept[j * n + i] = real(fixed.data, i * fixed.columns + j);
  }
  trends.forEach((trend, k) => kept.set(trend, (fixed.columns + k) * n));
  const count = fixed.columns + trends.length;
  solveLowerRows(factor, n, kept, count);
  const white = new Float64Array(n * count);
  for (let j = 0; j < count; j++) {
    for (let i = 0; i < n; i++) white[i * count + j] = real(kept, j * n + i);
  }
  const basis = factorise({ rows: n, columns: count, data: white });
  const size = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const own = inverse.subarray(i * n, (i + 1) * n);
    size[i] = own.reduce((sum, value) => sum + value * value, 0);
    basis.applyQt(own);
    own.fill(0, 0, basis.rank);
  }
  const p = new Float64Array(n * n);
  const py = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = basis.rank; k < n; k++) {
        sum += real(inverse, i * n + k) * real(inverse, j * n + k);
      }
      p[i * n + j] = sum;
      p[j * n + i] = sum;
    }
  }
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += real(p, i * n + j) * real(y, j);
    py[i] = sum;
  }
  return { p, py, size, rank: basis.rank };
}
