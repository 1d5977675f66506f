import type { Qr } from './qr';

/**
 * Whether a combination of coefficients can be estimated at all: its weight on each aliased
 * column must be what the columns that span it imply.
 */
export function isEstimable(qr: Qr, weights: Float64Array): boolean {
  const own = Float64Array.from(qr.kept, (j) => weights[j] ?? 0);
  let size = 0;
  for (const weight of weights) size = Math.max(size, Math.abs(weight));
  return qr.aliased.every((j, k) => {
    const combination = qr.aliasCombination(k);
    let implied = 0;
    let scale = size;
    for (let i = 0; i < own.length; i++) {
      const part = (combination[i] ?? 0) * (own[i] ?? 0);
      implied += part;
      scale = Math.max(scale, Math.abs(part));
    }
    return Math.abs(implied - (weights[j] ?? 0)) <= 1e-7 * scale;
  });
}
