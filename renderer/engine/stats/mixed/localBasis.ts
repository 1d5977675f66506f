import { columnLists, dot, factorise, fromColumns } from '../linear';
import type { Matrix } from '../model';
import type { OrthogonalDesign } from './orthogonal';
import { add, entry, real, whole } from '../../entry';

/** What is left of a column beside its length when others explain it. */
const EXPLAINED = 1e-9;

/** The span of X in orthonormal columns, as many as can be within the rows of one group. */
export interface LocalBasis {
  /** By group: columns over its rows. */
  readonly inside: readonly (readonly Float64Array[])[];
  /** Those that reach over several groups, each of length n. */
  readonly across: readonly Float64Array[];
}

/**
 * Columns of X that are zero outside one group of rows, such as the trends of a tray, and the group's
 * own mean where X has that: blocks that are the groups. What all X spans is theirs and a rest, which is
 * small where X says little beside them.
 */
export function localBasis(
  x: Matrix,
  design: OrthogonalDesign,
  groups: readonly Int32Array[],
): LocalBasis {
  const n = x.rows;
  const homeOf = new Int32Array(n).fill(-1);
  groups.forEach((rows, g) => {
    for (const row of rows) homeOf[row] = g;
  });
  const all = columnLists(x);
  const columns = Array.from(design.kept, (j) => entry(all, j));
  const homes = columns.map((column) => homeOfColumn(column, homeOf));
  const own = groups.map((rows, g) =>
    columns
      .filter((_, j) => homes[j] === g)
      .map((column) => Float64Array.from(rows, (row) => real(column, row))),
  );
  const inside = own.map((columns, g) => {
    const rows = entry(groups, g);
    const hasMean = columns.some(isLevel) || isSpanned(design, rows, n);
    return orthonormal(hasMean ? [new Float64Array(rows.length).fill(1), ...columns] : columns);
  });
  if (inside.every((columns) => columns.length === 0)) {
    return { inside, across: Array.from(design.kept, (_, k) => design.direction(k)) };
  }
  const rest = columns.flatMap((column, j) => {
    if ((homes[j] ?? -1) >= 0) return [];
    const left = column.slice();
    groups.forEach((rows, g) => withoutSpan(left, 0, rows, inside[g] ?? []));
    return dot(left, left) > EXPLAINED ** 2 * dot(column, column) ? [left] : [];
  });
  const qr = factorise(fromColumns(rest, n));
  return { inside, across: Array.from({ length: qr.rank }, (_, k) => qr.direction(k)) };
}

/** The group outside which a column is zero; -1 where there is none. */
function homeOfColumn(column: Float64Array, homeOf: Int32Array): number {
  let home = -1;
  for (let i = 0; i < column.length; i++) {
    if (column[i] === 0) continue;
    const own = whole(homeOf, i);
    if (own < 0 || (home >= 0 && own !== home)) return -1;
    home = own;
  }
  return home;
}

/** Whether all values are one and the same, not zero. */
function isLevel(column: Float64Array): boolean {
  const [first = 0] = column;
  return first !== 0 && column.every((value) => value === first);
}

/** Whether the indicator of some rows is in the span of X. */
function isSpanned(design: OrthogonalDesign, rows: Int32Array, n: number): boolean {
  const indicator = new Float64Array(n);
  for (const row of rows) indicator[row] = 1;
  design.turn(indicator, 0);
  let left = 0;
  for (let i = design.rank; i < n; i++) left += real(indicator, i) ** 2;
  return left <= EXPLAINED ** 2 * rows.length;
}

function orthonormal(columns: readonly Float64Array[]): Float64Array[] {
  if (columns.length === 0) return [];
  const qr = factorise(fromColumns(columns, columns[0]?.length ?? 0));
  return Array.from({ length: qr.rank }, (_, k) => qr.direction(k));
}

/** Takes orthonormal columns over some rows out of n values that begin at `from`. */
export function withoutSpan(
  values: Float64Array,
  from: number,
  rows: Int32Array,
  basis: readonly Float64Array[],
): void {
  for (const column of basis) {
    let share = 0;
    for (let a = 0; a < rows.length; a++) {
      share += real(column, a) * real(values, from + whole(rows, a));
    }
    if (share === 0) continue;
    for (let a = 0; a < rows.length; a++) {
      add(values, from + whole(rows, a), -share * real(column, a));
    }
  }
}
