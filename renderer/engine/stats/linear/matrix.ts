import type { Matrix } from '../model';
import { add, real } from '../../entry';

export function at(m: Matrix, row: number, column: number): number {
  return real(m.data, row * m.columns + column);
}

/** The columns of `m` with the given indices, in that order. */
export function selectColumns(m: Matrix, indices: readonly number[]): Matrix {
  const data = new Float64Array(m.rows * indices.length);
  for (let i = 0; i < m.rows; i++) {
    indices.forEach((j, k) => {
      data[i * indices.length + k] = at(m, i, j);
    });
  }
  return { rows: m.rows, columns: indices.length, data };
}

/** `m` with more columns after its own. */
export function withColumns(m: Matrix, more: readonly Float64Array[]): Matrix {
  const columns = m.columns + more.length;
  const data = new Float64Array(m.rows * columns);
  for (let i = 0; i < m.rows; i++) {
    data.set(m.data.subarray(i * m.columns, (i + 1) * m.columns), i * columns);
    more.forEach((column, k) => (data[i * columns + m.columns + k] = real(column, i)));
  }
  return { rows: m.rows, columns, data };
}

export function fromRows(rows: readonly Float64Array[], columns: number): Matrix {
  const data = new Float64Array(rows.length * columns);
  rows.forEach((row, i) => data.set(row, i * columns));
  return { rows: rows.length, columns, data };
}

/** Columns of `rows` entries each. */
export function fromColumns(columns: readonly Float64Array[], rows: number): Matrix {
  const data = new Float64Array(rows * columns.length);
  columns.forEach((column, j) => {
    for (let i = 0; i < rows; i++) data[i * columns.length + j] = real(column, i);
  });
  return { rows, columns: columns.length, data };
}

/** The columns of a matrix, each a list of its own. */
export function columnLists({ rows, columns, data }: Matrix): Float64Array[] {
  return Array.from({ length: columns }, (_, j) => {
    const column = new Float64Array(rows);
    for (let i = 0; i < rows; i++) column[i] = real(data, i * columns + j);
    return column;
  });
}

/** The rows of a matrix, as views of its data. */
export function rowsOf({ rows, columns, data }: Matrix): Float64Array[] {
  return Array.from({ length: rows }, (_, i) => data.subarray(i * columns, (i + 1) * columns));
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += real(a, i) * real(b, i);
  return sum;
}

/** vᵀM, one entry a column. */
export function rowTimes(v: Float64Array, m: Matrix): Float64Array {
  const out = new Float64Array(m.columns);
  for (let i = 0; i < m.rows; i++) {
    const value = real(v, i);
    if (value === 0) continue;
    for (let j = 0; j < m.columns; j++) add(out, j, value * at(m, i, j));
  }
  return out;
}

/** Mv, one entry a row. */
export function times(m: Matrix, v: Float64Array): Float64Array {
  const out = new Float64Array(m.rows);
  for (let i = 0; i < m.rows; i++) {
    let sum = 0;
    for (let j = 0; j < m.columns; j++) sum += at(m, i, j) * real(v, j);
    out[i] = sum;
  }
  return out;
}
