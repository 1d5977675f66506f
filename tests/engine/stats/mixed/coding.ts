import { readFileSync } from 'node:fs';
import type { Matrix } from '../../../../renderer/engine/stats/model';
import type { RandomUnit } from '../../../../renderer/engine/stats/mixed';

const home = new URL('../../../reference/', import.meta.url);

export type Table = Record<string, string[]>;

/** A table of tests/reference, by column. */
export function readTable(path: string): Table {
  const lines = readFileSync(new URL(path, home), 'utf8').trim().split(/\r?\n/);
  const [header = '', ...rows] = lines;
  const names = header.split(',').map((name) => name.replaceAll('"', ''));
  const cells = rows.map((row) => row.split(',').map((cell) => cell.replaceAll('"', '')));
  return Object.fromEntries(names.map((name, j) => [name, cells.map((row) => row[j] ?? '')]));
}

export function readJson(path: string): unknown {
  return JSON.parse(readFileSync(new URL(path, home), 'utf8'));
}

export function column(table: Table, name: string): string[] {
  const found = table[name];
  if (found === undefined) throw new Error(`no column ${name}`);
  return found;
}

export const numbers = (table: Table, name: string): Float64Array =>
  Float64Array.from(column(table, name), Number);

/** Rows of a table for which `keep` holds. */
export function rowsOf(table: Table, keep: (row: number) => boolean): Table {
  return Object.fromEntries(
    Object.entries(table).map(([name, cells]) => [name, cells.filter((_, i) => keep(i))]),
  );
}

/** Levels in alphabetical order, as the reference figures have them. */
export const levelsOf = (cells: readonly string[]): string[] =>
  [...new Set(cells)].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));

/** Column names and values of a design row: 1, and products of indicators and covariates. */
export type Row = (cell: Record<string, string>) => number[];

export interface Factor {
  name: string;
  levels: string[];
}

export function factor(table: Table, name: string): Factor {
  return { name, levels: levelsOf(column(table, name)) };
}

/** Treatment coding: an intercept, then the terms, each a list of factors or covariates. */
export function coder(terms: (Factor | string)[][]): Row {
  return (cell) => {
    const out = [1];
    for (const term of terms) {
      let products = [1];
      for (const part of term) {
        const values =
          typeof part === 'string'
            ? [Number(cell[part])]
            : part.levels.slice(1).map((level) => (cell[part.name] === level ? 1 : 0));
        products = values.flatMap((value) => products.map((product) => product * value));
      }
      out.push(...products);
    }
    return out;
  };
}

export function cellAt(table: Table, row: number): Record<string, string> {
  return Object.fromEntries(Object.entries(table).map(([name, cells]) => [name, cells[row] ?? '']));
}

export function matrix(rows: readonly (readonly number[])[]): Matrix {
  const columns = rows[0]?.length ?? 0;
  return { rows: rows.length, columns, data: Float64Array.from(rows.flat()) };
}

export function designOf(table: Table, row: Row): Matrix {
  const count = Object.values(table)[0]?.length ?? 0;
  return matrix(Array.from({ length: count }, (_, i) => row(cellAt(table, i))));
}

export function unit(table: Table, names: string[], label = names.join(' × ')): RandomUnit {
  const count = Object.values(table)[0]?.length ?? 0;
  const keys = Array.from({ length: count }, (_, i) =>
    names.map((name) => table[name]?.[i] ?? '').join('|'),
  );
  const levels = levelsOf(keys);
  return {
    unit: label,
    codes: Int32Array.from(keys, (key) => levels.indexOf(key)),
    levels: levels.length,
  };
}

/** Mean of the design rows of every combination of `factors`, those in `at` held at a level. */
export function averageRow(
  row: Row,
  factors: readonly Factor[],
  at: Record<string, string>,
  covariates: Record<string, string> = {},
): Float64Array {
  let cells: Record<string, string>[] = [{ ...covariates }];
  for (const { name, levels } of factors) {
    const held = at[name];
    const values = held === undefined ? levels : [held];
    cells = cells.flatMap((cell) => values.map((value) => ({ ...cell, [name]: value })));
  }
  const rows = cells.map(row);
  const width = rows[0]?.length ?? 0;
  return Float64Array.from(
    { length: width },
    (_, j) => rows.reduce((sum, r) => sum + (r[j] ?? 0), 0) / rows.length,
  );
}

/**
 * Marginal (type III) contrasts of a term as the reference program gives them: of each factor,
 * every later level against the first, averaged over the other factors; of several, products.
 */
export function marginalContrasts(row: Row, factors: readonly Factor[], term: string[]): Matrix {
  let parts: { at: Record<string, string>; weight: number }[][] = [[{ at: {}, weight: 1 }]];
  for (const name of term) {
    const [first = '', ...later] = factors.find((f) => f.name === name)?.levels ?? [];
    parts = later.flatMap((level) =>
      parts.map((left) =>
        left.flatMap(({ at, weight }) => [
          { at: { ...at, [name]: level }, weight },
          { at: { ...at, [name]: first }, weight: -weight },
        ]),
      ),
    );
  }
  return matrix(
    parts.map((contrast) => {
      const rows = contrast.map(({ at, weight }) =>
        averageRow(row, factors, at).map((value) => value * weight),
      );
      return Array.from({ length: rows[0]?.length ?? 0 }, (_, j) =>
        rows.reduce((sum, r) => sum + (r[j] ?? 0), 0),
      );
    }),
  );
}

/**
 * Sequential contrasts of columns from … to − 1 of X, as the reference program gives them for a
 * model of one term: rows of the triangle U of XᵀX = UᵀDU, whose diagonal is 1.
 */
export function sequentialContrasts(x: Matrix, from: number, to: number): Matrix {
  const p = x.columns;
  const u = Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (__, j) => {
      let sum = 0;
      for (let k = 0; k < x.rows; k++) sum += (x.data[k * p + i] ?? 0) * (x.data[k * p + j] ?? 0);
      return sum;
    }),
  );
  for (const [k, pivot] of u.entries()) {
    for (const row of u.slice(k + 1)) {
      const factor = (row[k] ?? 0) / (pivot[k] ?? 1);
      for (let j = 0; j < p; j++) row[j] = (row[j] ?? 0) - factor * (pivot[j] ?? 0);
    }
  }
  return matrix(
    u.slice(from, to).map((row, i) => row.map((value) => value / (row[from + i] ?? 1))),
  );
}
