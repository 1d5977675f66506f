import { factorise, fromColumns } from '../linear';
import type { Matrix } from '../model';
import type { OrthogonalDesign } from './orthogonal';
import { add, real, whole } from '../../entry';

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
  const columns = Array.from(design.kept, (j) =>
    Float64Array.from({ length: n }, (_, i) => real(x.data, i * x.columns + j)),
  );
  const candidates = groups.map((rows): Float64Array[] =>
    isSpanned(design, rows, n) ? [new Float64Array(rows.length).fill(1)] : [],
  );
  for (const column of columns) {
    const home = homeOf[column.findIndex((value) => value !== 0)] ?? -1;
    const rows = groups[home];
    if (!rows || column.some((value, i) => value !== 0 && homeOf[i] !== home)) continue;
    candidates[home]?.push(Float64Array.from(rows, (row) => real(column, row)));
  }
  const inside = candidates.map(orthonormal);
  if (inside.every((own) => own.length === 0)) {
    return { inside, across: Array.from(design.kept, (_, k) => design.direction(k)) };
  }
  const rest = columns.flatMap((column) => {
    const left = column.slice();
    groups.forEach((rows, g) => withoutSpan(left, 0, rows, inside[g] ?? []));
    const size = column.reduce((sum, value) => sum + value * value, 0);
    const over = left.reduce((sum, value) => sum + value * value, 0);
    return over > EXPLAINED ** 2 * size ? [left] : [];
  });
  const qr = factorise(fromColumns(rest, n));
  return { inside, across: Array.from({ length: qr.rank }, (_, k) => qr.direction(k)) };
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
