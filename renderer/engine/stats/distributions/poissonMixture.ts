import { gammaKernel } from './gamma';

/**
 * What a noncentral F or chi-square needs of its central kin with j extra pairs of degrees of
 * freedom, j = 0, 1, 2…: the tail, and how much the lower tail drops from j to j + 1.
 */
export interface CentralFamily {
  tail(j: number): number;
  /** lower(j) − lower(j + 1) = upper(j + 1) − upper(j), positive. */
  drop(j: number): number;
}

/**
 * Σⱼ Poisson(j; mean) × central tail with j extra pairs of df. The upper tail grows with j and is
 * summed upwards, the lower shrinks and is summed downwards, so that every step adds a positive
 * amount and small results keep their digits.
 */
export function poissonMixture(
  mean: number,
  side: 'lower' | 'upper',
  central: CentralFamily,
): number {
  const spread = Math.sqrt(mean + 1);
  const first = Math.max(0, Math.floor(mean - 10 * spread));
  const last = Math.ceil(mean + 12 * spread + 30);
  const weight = (j: number): number =>
    mean === 0 ? Number(j === 0) : gammaKernel(mean, j + 1) / mean;
  let sum = 0;
  if (side === 'upper') {
    let tail = central.tail(first);
    for (let j = first; ; j++) {
      const term = weight(j) * tail;
      sum += term;
      if (j >= last && term <= 1e-18 * sum) return sum;
      if (j > last + 100_000) return sum;
      tail += central.drop(j);
    }
  }
  let tail = central.tail(last);
  for (let j = last; j >= 0; j--) {
    const term = weight(j) * tail;
    sum += term;
    if (j < first && term <= 1e-18 * sum) return sum;
    if (j > 0) tail += central.drop(j - 1);
  }
  return sum;
}
