import { columnLists, dot, fromColumns, SPANNED, spaceOf } from '../linear';
import type { Matrix } from '../model';
import { orthogonalDesign } from './orthogonal';
import { entry, real, whole } from '../../entry';

/** Columns of a fixed part that are zero outside a set of rows. */
export interface LocalColumns {
  readonly rows: Int32Array;
  /** Each over the rows of the set. */
  readonly columns: readonly Float64Array[];
}

/**
 * An orthonormal basis K of what local columns N leave free, set by set. What is left of [X N] in
 * KᵀX decides all else of a model: residuals, REML and the coefficients of X are those of Kᵀy on
 * KᵀX (Frisch & Waugh 1933; Harville 1974).
 */
export interface Complement {
  /** Columns of K. */
  readonly size: number;
  /** Rank of N, and log|NᵀN|. */
  readonly rank: number;
  readonly logGram: number;
  /** Kᵀ times n values. */
  out(values: Float64Array): Float64Array;
  /** K times `size` values. */
  back(values: Float64Array): Float64Array;
}

/** The sets together must hold each row once. */
export function complementOf(sets: readonly LocalColumns[]): Complement {
  const n = sets.reduce((sum, { rows }) => sum + rows.length, 0);
  const parts = sets.map(({ rows, columns }) => {
    const design = orthogonalDesign(fromColumns(columns, rows.length));
    return { rows, design, own: new Float64Array(rows.length) };
  });
  const rank = parts.reduce((sum, { design }) => sum + design.rank, 0);
  return {
    ...{ size: n - rank, rank },
    logGram: parts.reduce((sum, { design }) => sum + design.logGram, 0),
    out(values) {
      const left = new Float64Array(n - rank);
      let at = 0;
      for (const { rows, design, own } of parts) {
        for (let i = 0; i < own.length; i++) own[i] = real(values, whole(rows, i));
        design.turn(own, 0);
        left.set(own.subarray(design.rank), at);
        at += rows.length - design.rank;
      }
      return left;
    },
    back(values) {
      const full = new Float64Array(n);
      let at = 0;
      for (const { rows, design, own } of parts) {
        const count = rows.length - design.rank;
        own.fill(0, 0, design.rank);
        own.set(values.subarray(at, at + count), design.rank);
        design.turnBack(own, 0);
        for (let i = 0; i < own.length; i++) full[whole(rows, i)] = real(own, i);
        at += count;
      }
      return full;
    },
  };
}

/** A fixed part without local columns that are nobody's business but the model's. */
export interface Apart {
  readonly complement: Complement;
  /** KᵀX. */
  readonly left: Matrix;
}

/**
 * X without columns that are zero outside one of the sets each; null where one of them is not, or where
 * they say a part of what X says, so that the order of columns decides which coefficients there are.
 * `rank`: that of X.
 */
export function apartFrom(
  sets: readonly Int32Array[],
  columns: readonly Float64Array[],
  x: Matrix,
  rank: number,
): Apart | null {
  const local = localColumns(sets, columns, x.rows);
  if (!local) return null;
  const complement = complementOf(local);
  const all = columnLists(x);
  const own = all.map((column) => complement.out(column));
  const isLeft = own.every((column, j) => {
    const before = entry(all, j);
    return dot(column, column) > SPANNED ** 2 * dot(before, before);
  });
  if (!isLeft) return null;
  const left = fromColumns(own, complement.size);
  return spaceOf(left).rank === rank ? { complement, left } : null;
}

/** Columns of length n by the sets in which they are not zero; null where one reaches across sets. */
export function localColumns(
  sets: readonly Int32Array[],
  columns: readonly Float64Array[],
  n: number,
): LocalColumns[] | null {
  const home = new Int32Array(n);
  sets.forEach((rows, s) => rows.forEach((row) => (home[row] = s)));
  const own = sets.map((): Float64Array[] => []);
  for (const column of columns) {
    const s = home[column.findIndex((value) => value !== 0)] ?? 0;
    if (column.some((value, i) => value !== 0 && home[i] !== s)) return null;
    entry(own, s).push(Float64Array.from(entry(sets, s), (row) => real(column, row)));
  }
  return sets.map((rows, s) => ({ rows, columns: entry(own, s) }));
}
