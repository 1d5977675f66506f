import { columnLists, dot, fromColumns, SPANNED, spaceOf, type SparseColumn } from '../linear';
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
  /** The same of a column that is zero outside some rows. */
  outSparse(column: SparseColumn): SparseColumn;
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
  const home = new Int32Array(n);
  const placeOf = new Int32Array(n);
  const starts = new Int32Array(parts.length + 1);
  parts.forEach(({ rows, design }, s) => {
    rows.forEach((row, place) => {
      home[row] = s;
      placeOf[row] = place;
    });
    starts[s + 1] = whole(starts, s) + rows.length - design.rank;
  });
  return {
    size: n - rank,
    rank,
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
    outSparse({ rows, values }) {
      const touched = new Map<number, Float64Array>();
      for (let k = 0; k < rows.length; k++) {
        const row = whole(rows, k);
        const s = whole(home, row);
        const own = touched.get(s) ?? new Float64Array(entry(parts, s).rows.length);
        own[whole(placeOf, row)] = real(values, k);
        touched.set(s, own);
      }
      const left = [...touched].map(([s, own]) => {
        const { design } = entry(parts, s);
        design.turn(own, 0);
        return { from: whole(starts, s), own: own.subarray(design.rank) };
      });
      const count = left.reduce((sum, { own }) => sum + own.length, 0);
      const found = { rows: new Int32Array(count), values: new Float64Array(count) };
      let at = 0;
      for (const { from, own } of left) {
        found.values.set(own, at);
        for (let i = 0; i < own.length; i++) found.rows[at++] = from + i;
      }
      return found;
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
 * X without local columns; null where those say a part of what X says, so that the order of columns
 * decides which coefficients there are. `rank`: that of X.
 */
export function apartFrom(local: readonly LocalColumns[], x: Matrix, rank: number): Apart | null {
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

/** Columns by the sets in which they are not zero, each in one. */
export function localColumns(
  sets: readonly Int32Array[],
  columns: readonly SparseColumn[],
): LocalColumns[] {
  const home = new Map<number, { set: number; place: number }>();
  sets.forEach((rows, set) => rows.forEach((row, place) => home.set(row, { set, place })));
  const own = sets.map((): Float64Array[] => []);
  for (const { rows, values } of columns) {
    const set = home.get(whole(rows, 0))?.set ?? -1;
    const local = new Float64Array(entry(sets, set).length);
    rows.forEach((row, k) => {
      const at = home.get(row);
      if (at?.set !== set) throw new Error(`row ${row} of a column lies outside its set`);
      local[at.place] = real(values, k);
    });
    entry(own, set).push(local);
  }
  return sets.map((rows, set) => ({ rows, columns: entry(own, set) }));
}
