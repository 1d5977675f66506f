import { factorise, spaceOf } from '../linear/qr';
import { transposed } from './linalg';
import type { Matrix } from '../model';
import { real } from '../../entry';

/** The design matrix X as an orthogonal basis; aliased columns are passed over, in order. */
export interface OrthogonalDesign {
  readonly n: number;
  /** Columns of X that are not aliased, in order; `rank` of them. */
  readonly kept: Int32Array;
  readonly rank: number;
  /** log|XᵀX| of the kept columns. */
  readonly logGram: number;
  /**
   * Turns n entries of a vector in place: the first `rank` become its coordinates in the span of
   * X, the others coordinates in the space that X leaves free.
   */
  turn(vector: Float64Array, offset: number): void;
  /** Column k of the basis of X's span. */
  direction(k: number): Float64Array;
  /** The inverse of `turn`. */
  turnBack(vector: Float64Array, offset: number): void;
  /** R⁻¹b: from coordinates in the span of X to coefficients. */
  solve(b: Float64Array): Float64Array;
}

export function orthogonalDesign(x: Matrix): OrthogonalDesign {
  const qr = spaceOf(x);
  const n = x.rows;
  const { rank } = qr;
  let logGram = 0;
  for (let k = 0; k < rank; k++) {
    const unit = new Float64Array(rank);
    unit[k] = 1;
    logGram -= 2 * Math.log(Math.abs(qr.solveUpper(unit)[k] ?? 1));
  }
  return {
    n,
    kept: Int32Array.from(qr.kept),
    rank,
    logGram,
    turn(vector, offset) {
      qr.applyQt(vector.subarray(offset, offset + n));
    },
    direction: qr.direction,
    turnBack(vector, offset) {
      qr.applyQ(vector.subarray(offset, offset + n));
    },
    solve: (b) => qr.solveUpper(b),
  };
}

/** R⁻¹ times a matrix with `rank` rows and `columns` columns, row major, as a new array. */
export function solveR(
  design: OrthogonalDesign,
  matrix: Float64Array,
  columns: number,
): Float64Array {
  const { rank } = design;
  const out = new Float64Array(rank * columns);
  const column = new Float64Array(rank);
  for (let j = 0; j < columns; j++) {
    for (let i = 0; i < rank; i++) column[i] = real(matrix, i * columns + j);
    const solved = design.solve(column);
    for (let i = 0; i < rank; i++) out[i * columns + j] = real(solved, i);
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
      const mean = (real(full, i * rank + j) + real(full, j * rank + i)) / 2;
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
    for (let i = 0; i < n; i++) data[i * p + j] = real(column, i);
  });
  return factorise({ rows: n, columns: p, data }).rank;
}
