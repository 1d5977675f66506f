import { dot, times } from '../linear';
import type { Matrix } from '../model';
import { num } from '../../entry';

/**
 * Loadings λ with which the correlation of comparisons i and j comes nearest to λᵢλⱼ (least
 * squares off the diagonal). Comparisons of independent means with one control have exactly this
 * form; with covariates or unequal blocks it is an approximation, whose largest miss is returned.
 */
export function commonLoadings(
  weights: readonly Float64Array[],
  covariance: Matrix,
): { loadings: number[]; miss: number } {
  const spread = weights.map((w) => times(covariance, w));
  const sd = weights.map((w, i) => Math.sqrt(dot(w, spread[i] ?? w)));
  const correlation = weights.map((w, i) =>
    spread.map((s, j) => dot(w, s) / ((sd[i] ?? 1) * (sd[j] ?? 1))),
  );
  const k = weights.length;
  if (k < 2) return { loadings: [0], miss: 0 };
  const r = (i: number, j: number): number => correlation[i]?.[j] ?? 0;
  if (k === 2) {
    const both = Math.min(0.999999, Math.sqrt(Math.abs(r(0, 1))));
    return { loadings: [both, both], miss: 0 };
  }
  const loadings = new Array<number>(k).fill(Math.SQRT1_2);
  for (let pass = 0; pass < 500; pass++) {
    let change = 0;
    for (let i = 0; i < k; i++) {
      let top = 0;
      let bottom = 0;
      loadings.forEach((loading, j) => {
        if (j === i) return;
        top += r(i, j) * loading;
        bottom += loading * loading;
      });
      const next = bottom > 0 ? Math.max(-0.999999, Math.min(0.999999, top / bottom)) : 0;
      change = Math.max(change, Math.abs(next - num(loadings, i)));
      loadings[i] = next;
    }
    if (change < 1e-14) break;
  }
  let miss = 0;
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < i; j++) {
      miss = Math.max(miss, Math.abs(r(i, j) - num(loadings, i) * num(loadings, j)));
    }
  }
  // Equal loadings that differ by rounding alone are made equal, which halves the integration.
  return { loadings: loadings.map((loading) => Math.round(loading * 1e12) / 1e12), miss };
}
