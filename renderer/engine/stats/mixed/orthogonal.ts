import { addScaled, dot, transposed } from './linalg';
import type { Matrix } from '../model';

/** A column counts as aliased when less than this share of its length is left after the others. */
const ALIASED = 1e-9;

/**
 * The design matrix X as an orthogonal basis, by Householder reflections. A column that is a
 * linear combination of earlier ones is passed over, so the earlier column keeps its meaning.
 */
export interface OrthogonalDesign {
  readonly n: number;
  /** Columns of X that are not aliased, in order; `rank` of them. */
  readonly kept: Int32Array;
  readonly rank: number;
  /** Upper triangle R of the kept columns, rank × rank, with positive or negative diagonal. */
  readonly r: Float64Array;
  /** log|XᵀX| of the kept columns. */
  readonly logGram: number;
  /**
   * Turns a vector of length n in place: its first `rank` entries become its coordinates in the
   * span of X, the others coordinates in the space that X leaves free.
   */
  turn(vector: Float64Array, offset: number): void;
  /** The inverse of `turn`. */
  turnBack(vector: Float64Array, offset: number): void;
}

/** Householder decomposition of X with aliased columns dropped in order (Golub & Van Loan, 5.2). */
export function orthogonalDesign(x: Matrix): OrthogonalDesign {
  const n = x.rows;
  const p = x.columns;
  const kept: number[] = [];
  const reflectors: Float64Array[] = [];
  const upper: Float64Array[] = [];

  const reflect = (v: Float64Array, from: number, vector: Float64Array, offset: number): void => {
    const length = n - from;
    addScaled(vector, offset + from, -2 * dot(v, 0, vector, offset + from, length), v, 0, length);
  };

  for (let j = 0; j < p; j++) {
    const column = new Float64Array(n);
    for (let i = 0; i < n; i++) column[i] = x.data[i * p + j] ?? 0;
    const before = Math.sqrt(dot(column, 0, column, 0, n));
    reflectors.forEach((v, k) => {
      reflect(v, k, column, 0);
    });
    const k = kept.length;
    if (k === n) continue;
    const left = Math.sqrt(dot(column, k, column, k, n - k));
    if (!(left > ALIASED * before)) continue;
    const v = column.slice(k);
    const head = v[0] ?? 0;
    const pivot = head > 0 ? -left : left;
    v[0] = head - pivot;
    const norm = Math.sqrt(dot(v, 0, v, 0, v.length));
    for (let i = 0; i < v.length; i++) v[i] = (v[i] ?? 0) / norm;
    reflectors.push(v);
    const entries = column.slice(0, k + 1);
    entries[k] = pivot;
    upper.push(entries);
    kept.push(j);
  }

  const rank = kept.length;
  const r = new Float64Array(rank * rank);
  let logGram = 0;
  upper.forEach((entries, j) => {
    for (let i = 0; i <= j; i++) r[i * rank + j] = entries[i] ?? 0;
    logGram += 2 * Math.log(Math.abs(entries[j] ?? 1));
  });
  return {
    n,
    kept: Int32Array.from(kept),
    rank,
    r,
    logGram,
    turn(vector, offset) {
      reflectors.forEach((v, k) => {
        reflect(v, k, vector, offset);
      });
    },
    turnBack(vector, offset) {
      for (let k = reflectors.length - 1; k >= 0; k--) {
        const v = reflectors[k];
        if (v) reflect(v, k, vector, offset);
      }
    },
  };
}

/** R⁻¹ times a matrix with `rank` rows and `columns` columns, row major, as a new array. */
export function solveR(
  design: OrthogonalDesign,
  matrix: Float64Array,
  columns: number,
): Float64Array {
  const { rank, r } = design;
  const out = matrix.slice();
  for (let i = rank - 1; i >= 0; i--) {
    for (let k = i + 1; k < rank; k++) {
      addScaled(out, i * columns, -(r[i * rank + k] ?? 0), out, k * columns, columns);
    }
    const pivot = r[i * rank + i] ?? 1;
    for (let j = 0; j < columns; j++) out[i * columns + j] = (out[i * columns + j] ?? 0) / pivot;
  }
  return out;
}

/** R⁻¹ S R⁻ᵀ of a symmetric S: from coordinates in the basis of X to its columns. */
export function sandwich(design: OrthogonalDesign, s: Float64Array): Float64Array {
  const { rank } = design;
  const half = transposed(solveR(design, s, rank), rank, rank);
  const full = solveR(design, half, rank);
  for (let i = 0; i < rank; i++) {
    for (let j = 0; j < i; j++) {
      const mean = ((full[i * rank + j] ?? 0) + (full[j * rank + i] ?? 0)) / 2;
      full[i * rank + j] = mean;
      full[j * rank + i] = mean;
    }
  }
  return full;
}

/** Rank of a set of columns, each a vector of length n, by the same rule. */
export function rankOf(columns: readonly Float64Array[], n: number): number {
  const p = columns.length;
  const data = new Float64Array(n * p);
  columns.forEach((column, j) => {
    for (let i = 0; i < n; i++) data[i * p + j] = column[i] ?? 0;
  });
  return orthogonalDesign({ rows: n, columns: p, data }).rank;
}
