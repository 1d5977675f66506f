import { rankOf } from './orthogonal';
import type { Matrix } from '../model';
import type { RandomUnit } from './types';
import { real, whole } from '../../entry';

/** Level codes by unit; true where every level of `inner` lies within one level of `outer`. */
function liesWithin(inner: RandomUnit, outer: RandomUnit): boolean {
  const found = new Int32Array(inner.levels).fill(-1);
  return inner.codes.every((code, i) => {
    const other = outer.codes[i] ?? -1;
    if (found[code] === -1) found[code] = other;
    return found[code] === other;
  });
}

function columnOf(x: Matrix, j: number): Float64Array {
  return Float64Array.from({ length: x.rows }, (_, i) => real(x.data, i * x.columns + j));
}

function constantWithin(column: Float64Array, unit: RandomUnit): boolean {
  const found = new Float64Array(unit.levels).fill(NaN);
  return column.every((value, i) => {
    const code = whole(unit.codes, i);
    const first = found[code] ?? NaN;
    if (Number.isNaN(first)) {
      found[code] = value;
      return true;
    }
    return value === first;
  });
}

function indicators(unit: RandomUnit, rows: readonly number[]): Float64Array[] {
  const columns = Array.from({ length: unit.levels }, () => new Float64Array(rows.length));
  rows.forEach((row, i) => {
    const column = columns[whole(unit.codes, row)];
    if (column) column[i] = 1;
  });
  return columns;
}

/**
 * Containment degrees of freedom of each kept column of X.
 *
 * The rule: a column belongs to a unit when it is constant within every one of that unit's
 * levels, else to the single pots. The df of a unit are its levels less the rank of what they
 * are already explained by: the coarser random units they lie within, and the columns of X
 * constant within them. The df of the single pots are the rows less rank [X Z]. A column that
 * belongs to several units takes the fewest df. With nested units this gives the df of the
 * classical strata of a balanced split plot.
 */
export function containmentStrata(
  x: Matrix,
  kept: Int32Array,
  random: readonly RandomUnit[],
): { unit: string; df: number }[] {
  const columns = Array.from(kept, (j) => columnOf(x, j));
  const all = Array.from({ length: x.rows }, (_, i) => i);
  const explained = [...columns, ...random.flatMap((unit) => indicators(unit, all))];
  const pots = { unit: 'pot', df: x.rows - rankOf(explained, x.rows) };
  const strata = random.map((unit) => {
    const first = new Map<number, number>();
    unit.codes.forEach((code, row) => {
      if (!first.has(code)) first.set(code, row);
    });
    const rows = [...first.values()];
    const known: Float64Array[] = columns
      .filter((column) => constantWithin(column, unit))
      .map((column) => Float64Array.from(rows, (row) => real(column, row)));
    const coarser = random.filter((other) => other !== unit && liesWithin(unit, other));
    for (const other of coarser) known.push(...indicators(other, rows));
    return { unit, df: rows.length - rankOf(known, rows.length) };
  });
  return columns.map((column) => {
    let least = pots;
    let found = false;
    for (const { unit, df } of strata) {
      if (!constantWithin(column, unit) || (found && df >= least.df)) continue;
      least = { unit: unit.unit, df };
      found = true;
    }
    return least;
  });
}
