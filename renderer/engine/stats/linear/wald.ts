import type { Matrix } from '../model';
import { at, dot, times } from './matrix';
import { entry, num, real } from '../../entry';

/**
 * (Lβ)ᵀ(L C Lᵀ)⁻(Lβ) and the rank of L C Lᵀ, by Cholesky with the largest pivot first; rows of
 * L that the others imply add nothing.
 */
export function quadraticForm(
  contrasts: Matrix,
  coefficients: Float64Array,
  covariance: Matrix,
): { value: number; rank: number } {
  const q = contrasts.rows;
  const p = contrasts.columns;
  const row = (i: number): Float64Array => contrasts.data.subarray(i * p, (i + 1) * p);
  const beta = coefficients.map((value) => (Number.isNaN(value) ? 0 : value));
  const spread = Array.from({ length: q }, (_, i) => times(covariance, row(i)));
  const v = spread.map((s) => Float64Array.from({ length: q }, (_, j) => dot(row(j), s)));
  const sd = v.map((line, i) => Math.sqrt(Math.max(real(line, i), 0)));
  const scaled = v.map((line, i) =>
    line.map((value, j) =>
      num(sd, i) * num(sd, j) > 0 ? value / ((sd[i] ?? 1) * (sd[j] ?? 1)) : 0,
    ),
  );
  const effect = Array.from({ length: q }, (_, i) => {
    const scale = num(sd, i);
    return scale > 0 ? dot(row(i), beta) / scale : 0;
  });
  let value = 0;
  let rank = 0;
  const left = new Set(Array.from({ length: q }, (_, i) => i));
  while (left.size > 0) {
    let pivot = -1;
    let largest = 1e-9;
    for (const i of left) {
      const size = real(entry(scaled, i), i);
      if (size > largest) [pivot, largest] = [i, size];
    }
    const pivotRow = scaled[pivot];
    if (!pivotRow) break;
    left.delete(pivot);
    rank++;
    const e = num(effect, pivot);
    value += (e * e) / largest;
    for (const i of left) {
      const line = scaled[i];
      if (!line) continue;
      const factor = real(line, pivot) / largest;
      effect[i] = num(effect, i) - factor * e;
      for (const j of left) line[j] = real(line, j) - factor * real(pivotRow, j);
    }
  }
  return { value, rank };
}

/** √(wᵀCw), never NaN for a covariance with rounding noise. */
export function standardError(weights: Float64Array, covariance: Matrix): number {
  let sum = 0;
  for (let i = 0; i < covariance.rows; i++) {
    const w = real(weights, i);
    if (w === 0) continue;
    for (let j = 0; j < covariance.columns; j++) sum += w * at(covariance, i, j) * real(weights, j);
  }
  return Math.sqrt(Math.max(sum, 0));
}
