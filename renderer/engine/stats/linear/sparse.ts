import { real, whole } from '../../entry';

/** A column that is zero outside some rows, which are in order. */
export interface SparseColumn {
  readonly rows: Int32Array;
  readonly values: Float64Array;
}

/** All n values of a column. */
export function denseColumn({ rows, values }: SparseColumn, n: number): Float64Array {
  const column = new Float64Array(n);
  for (let k = 0; k < rows.length; k++) column[whole(rows, k)] = real(values, k);
  return column;
}

/** Its product with a column of n values that begin at `from` of a list. */
export function sparseDot(
  { rows, values }: SparseColumn,
  list: Float64Array,
  from: number,
): number {
  let sum = 0;
  for (let k = 0; k < rows.length; k++) sum += real(values, k) * real(list, from + whole(rows, k));
  return sum;
}

/** list[from…] += factor × the column. */
export function addSparse(
  list: Float64Array,
  from: number,
  factor: number,
  { rows, values }: SparseColumn,
): void {
  for (let k = 0; k < rows.length; k++) {
    const at = from + whole(rows, k);
    list[at] = real(list, at) + factor * real(values, k);
  }
}
