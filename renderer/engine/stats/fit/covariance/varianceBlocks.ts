import { sharing, type CovarianceBlock } from '../../randomisation';
import { rowsTogether } from '../../mixed/rowsTogether';
import { entry, real, whole } from '../../../entry';

/** What V = Σ σ²ZZᵀ + σ²I is made of. */
export interface Variances {
  /** Rows of different groups share no effect and are not alike. */
  readonly group: Int32Array;
  readonly units: readonly { readonly codes: Int32Array; readonly variance: number }[];
  /** Independent effects of one variance: `count` columns, each of length n, one after another. */
  readonly effects?: readonly {
    readonly count: number;
    readonly rows: Float64Array;
    readonly variance: number;
  }[];
  /** What two rows of one group share beside that. */
  readonly shared?: (i: number, j: number) => number;
  readonly residual: number;
}

/** V by the rows that vary together. */
export function varianceBlocks(variances: Variances): CovarianceBlock[] {
  const { group, shared, residual } = variances;
  const n = group.length;
  const units = variances.units.filter(({ variance }) => variance > 0);
  const sets = rowsTogether([group, ...units.map(({ codes }) => codes)], n);
  const effects = effectsBySet(variances, sets);
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
      for (const { values, variance } of entry(effects, s)) addSquare(v, values, variance);
      return { rows, v };
    }),
  );
}

interface Effect {
  readonly values: Float64Array;
  readonly variance: number;
}

/** Each effect over the rows of the one set in which it is not zero. */
function effectsBySet({ group, effects = [] }: Variances, sets: readonly Int32Array[]): Effect[][] {
  const n = group.length;
  const home = new Int32Array(n);
  sets.forEach((rows, s) => rows.forEach((row) => (home[row] = s)));
  const found = sets.map((): Effect[] => []);
  for (const { count, rows, variance } of effects) {
    if (!(variance > 0)) continue;
    for (let k = 0; k < count; k++) {
      const column = rows.subarray(k * n, (k + 1) * n);
      const at = column.findIndex((value) => value !== 0);
      if (at < 0) continue;
      const s = whole(home, at);
      const values = Float64Array.from(entry(sets, s), (row) => real(column, row));
      entry(found, s).push({ values, variance });
    }
  }
  return found;
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
