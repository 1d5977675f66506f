import type { CellFit } from './cellFit';
import { add, real } from '../../entry';

/**
 * Coefficients of the treatments by least squares under the condition that some contrasts of them
 * are zero: β − C Lᵀ(L C Lᵀ)⁻¹Lβ, C the inverse of the cross products.
 */
export function constrained(fit: CellFit, rows: readonly Float64Array[]): Float64Array {
  const { kept, inverse: swept } = fit.solution;
  const d = kept.length;
  const inverse = (i: number, j: number): number =>
    kept[i] === 1 && kept[j] === 1 ? real(swept, i * d + j) : 0;
  const beta = fit.coefficients.slice();
  // One contrast after the other, each with those before it already zero.
  const c = Float64Array.from({ length: d * d }, (_, k) => inverse(Math.floor(k / d), k % d));
  for (const row of rows) {
    const along = new Float64Array(d);
    let length = 0;
    let value = 0;
    let scale = 0;
    for (let i = 0; i < d; i++) {
      for (let j = 0; j < d; j++) add(along, i, real(c, i * d + j) * real(row, j));
      length += real(row, i) * real(along, i);
      value += real(row, i) * real(beta, i);
      scale += real(row, i) ** 2 * inverse(i, i);
    }
    if (!(length > 1e-12 * scale)) continue;
    for (let i = 0; i < d; i++) {
      add(beta, i, -(real(along, i) * value) / length);
      for (let j = 0; j < d; j++) {
        add(c, i * d + j, -(real(along, i) * real(along, j)) / length);
      }
    }
  }
  return beta;
}
