import type { Design } from '../../design';
import { estimateLinear, factorise, unscaledCovariance } from '../../linear';
import { choleskyInPlace, solveLowerRows } from '../../mixed/cholesky';
import type { Estimate } from '../../model';
import { apart } from '../blocks';
import type { KnownCovariance } from './projection';
import { Refusal } from '../../../../words';
import { real, whole } from '../../../entry';

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
  const rows = new Float64Array((columns + 1) * n);
  for (let j = 0; j < x.columns; j++) {
    for (let i = 0; i < n; i++) rows[j * n + i] = real(x.data, i * x.columns + j);
  }
  trends.forEach((trend, k) => rows.set(trend, (x.columns + k) * n));
  rows.set(y, columns * n);
  whiten(rows, columns + 1, v, n);
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

/** L⁻¹ of rows of length n, V = LLᵀ, by the rows of the design that vary together. */
function whiten(rows: Float64Array, count: number, v: Float64Array, n: number): void {
  for (const together of apart(v, n)) {
    const size = together.length;
    const factor = new Float64Array(size * size);
    together.forEach((i, a) => {
      for (let b = 0; b <= a; b++) factor[a * size + b] = real(v, i * n + whole(together, b));
    });
    if (!choleskyInPlace(factor, size)) {
      throw new Refusal('randomisation test: the covariance of the rows is singular');
    }
    const own = new Float64Array(count * size);
    for (let k = 0; k < count; k++) {
      together.forEach((i, a) => (own[k * size + a] = real(rows, k * n + i)));
    }
    solveLowerRows(factor, size, own, count);
    for (let k = 0; k < count; k++) {
      together.forEach((i, a) => (rows[k * n + i] = real(own, k * size + a)));
    }
  }
}
