import type { SparseColumn } from '../../linear';
import { sharing, type CovarianceBlock } from '../../randomisation';
import { localColumns } from '../../mixed/complement';
import { rowsTogether } from '../../mixed/rowsTogether';
import { entry, real, whole } from '../../../entry';

/** What V = Σ σ²ZZᵀ + σ²I is made of. */
export interface Variances {
  /** Rows of different groups share no effect and are not alike. */
  readonly group: Int32Array;
  readonly units: readonly { readonly codes: Int32Array; readonly variance: number }[];
  /** Independent effects of one variance, each within a group. */
  readonly effects?: readonly {
    readonly columns: readonly SparseColumn[];
    readonly variance: number;
  }[];
  /** Fixed columns beside those of the design, each within a group. */
  readonly trends?: readonly SparseColumn[];
  /** What two rows of one group share beside that. */
  readonly shared?: (i: number, j: number) => number;
  readonly residual: number;
}

/** V by the rows that vary together. */
export function varianceBlocks(variances: Variances): CovarianceBlock[] {
  const { group, shared, residual, effects = [], trends = [] } = variances;
  const n = group.length;
  const units = variances.units.filter(({ variance }) => variance > 0);
  const sets = rowsTogether([group, ...units.map(({ codes }) => codes)], n);
  const active = effects.filter(({ variance }) => variance > 0);
  const bySet = active.map(({ columns }) => localColumns(sets, columns));
  const trendsBySet = localColumns(sets, trends);
  return sharing(
    sets.map((rows, s) => {
      const size = rows.length;
      const v = new Float64Array(size * size);
      for (let a = 0; a < size; a++) {
        const i = whole(rows, a);
        for (let b = 0; b <= a; b++) {
          const j = whole(rows, b);
          let sum = a === b ? residual : 0;
          for (const { codes, variance } of units) if (codes[i] === codes[j]) sum += variance;
          if (shared && group[i] === group[j]) sum += shared(i, j);
          v[a * size + b] = sum;
        }
      }
      active.forEach(({ variance }, k) => {
        for (const own of bySet[k]?.[s]?.columns ?? []) addSquare(v, own, variance);
      });
      return { rows, v, trends: entry(trendsBySet, s).columns };
    }),
  );
}

/** Adds variance · zzᵀ to the lower triangle. */
function addSquare(v: Float64Array, z: Float64Array, variance: number): void {
  const size = z.length;
  for (let a = 0; a < size; a++) {
    const za = variance * real(z, a);
    if (za === 0) continue;
    for (let b = 0; b <= a; b++) v[a * size + b] = real(v, a * size + b) + za * real(z, b);
  }
}
