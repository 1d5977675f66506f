import type { Design } from '../design';
import { estimateLinear, factorise, unscaledCovariance } from '../linear';
import { choleskyInPlace, solveLowerRows } from '../mixed/cholesky';
import type { Estimate } from '../model';
import type { KnownCovariance } from './projection';
import { Refusal } from '../../../words';
import { real } from '../../entry';

/**
 * Any combination of a design's coefficients by generalised least squares with a covariance known but
 * for its size, at the mean of the trends.
 */
export function glsEstimates(
  design: Design,
  { v, trends }: KnownCovariance,
): (weights: Float64Array) => Estimate {
  const { x, y } = design;
  const n = x.rows;
  const columns = x.columns + trends.length;
  const factor = v.slice();
  if (!choleskyInPlace(factor, n)) {
    throw new Refusal('randomisation test: the covariance of the rows is singular');
  }
  const rows = new Float64Array((columns + 1) * n);
  for (let j = 0; j < x.columns; j++) {
    for (let i = 0; i < n; i++) rows[j * n + i] = real(x.data, i * x.columns + j);
  }
  trends.forEach((trend, k) => rows.set(trend, (x.columns + k) * n));
  rows.set(y, columns * n);
  solveLowerRows(factor, n, rows, columns + 1);
  const data = new Float64Array(n * columns);
  for (let j = 0; j < columns; j++) {
    for (let i = 0; i < n; i++) data[i * columns + j] = real(rows, j * n + i);
  }
  const qr = factorise({ rows: n, columns, data });
  const turned = rows.slice(columns * n);
  qr.applyQt(turned);
  const own = qr.solveUpper(turned);
  const coefficients = new Float64Array(columns).fill(NaN);
  qr.kept.forEach((j, k) => (coefficients[j] = own[k] ?? NaN));
  const df = n - qr.rank;
  let ss = 0;
  for (let i = qr.rank; i < n; i++) ss += real(turned, i) ** 2;
  const covariance = unscaledCovariance(qr, ss / df);
  return (weights) => {
    const padded = new Float64Array(columns);
    padded.set(weights);
    return estimateLinear(padded, coefficients, covariance, df);
  };
}
