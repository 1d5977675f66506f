import type { Qr } from './householder';
import { real } from '../../entry';

/**
 * Whether a combination of coefficients can be estimated at all: its weight on each aliased
 * column must be what the columns that span it imply.
 */
export function isEstimable(qr: Qr, weights: Float64Array): boolean {
  const own = Float64Array.from(qr.kept, (j) => real(weights, j));
  let size = 0;
  for (const weight of weights) size = Math.max(size, Math.abs(weight));
  return qr.aliased.every((j, k) => {
    const combination = qr.aliasCombination(k);
    let implied = 0;
    let scale = size;
    for (let i = 0; i < own.length; i++) {
      const part = real(combination, i) * real(own, i);
      implied += part;
      scale = Math.max(scale, Math.abs(part));
    }
    return Math.abs(implied - real(weights, j)) <= 1e-7 * scale;
  });
}
