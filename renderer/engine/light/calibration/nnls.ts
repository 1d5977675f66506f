import { Matrix, solve } from 'ml-matrix';
import { Refusal } from '../../../words';
import { num } from '../../entry';

/**
 * Non-negative least squares min ‖A x − b‖, x ≥ 0, by the active set of Lawson and Hanson (1974),
 * for few unknowns. `rows` holds A row by row.
 */
export function nonNegativeLeastSquares(
  rows: readonly (readonly number[])[],
  b: readonly number[],
): number[] {
  const n = rows[0]?.length ?? 0;
  if (n === 0 || rows.length !== b.length) {
    throw new Refusal(
      `${rows.length} rows for ${b.length} values: as many rows as values expected`,
    );
  }
  const free = new Set<number>();
  let x = new Array<number>(n).fill(0);
  const gradient = () => {
    const w = new Array<number>(n).fill(0);
    rows.forEach((row, i) => {
      const left = num(b, i) - row.reduce((sum, a, j) => sum + a * num(x, j), 0);
      row.forEach((a, j) => (w[j] = num(w, j) + a * left));
    });
    return w;
  };
  const size = Math.max(...gradient().map(Math.abs), Number.MIN_VALUE);
  for (let round = 0; round < 10 * n; round++) {
    const w = gradient();
    let enter = -1;
    for (let j = 0; j < n; j++) {
      const better = enter < 0 || num(w, j) > num(w, enter);
      if (!free.has(j) && num(w, j) > 1e-12 * size && better) enter = j;
    }
    if (enter < 0) break;
    free.add(enter);
    x = walkTo(rows, b, x, free);
  }
  return x;
}

/** Least squares over the free unknowns, stepping back to the boundary while any is negative. */
function walkTo(
  rows: readonly (readonly number[])[],
  b: readonly number[],
  from: readonly number[],
  free: Set<number>,
): number[] {
  let x = [...from];
  while (free.size > 0) {
    const columns = [...free].sort((p, q) => p - q);
    const a = new Matrix(rows.map((row) => columns.map((j) => num(row, j))));
    const best = solve(a, Matrix.columnVector([...b]), true).to1DArray();
    const target = new Array<number>(x.length).fill(0);
    columns.forEach((j, k) => (target[j] = num(best, k)));
    let step = 1;
    for (const j of columns) {
      const [here, there] = [num(x, j), num(target, j)];
      if (there <= 0) step = Math.min(step, here / (here - there || 1));
    }
    x = x.map((here, j) => here + step * (num(target, j) - here));
    const stuck = columns.filter((j) => num(target, j) <= 0 && num(x, j) <= 1e-14);
    if (stuck.length === 0) return target;
    for (const j of stuck) {
      free.delete(j);
      x[j] = 0;
    }
  }
  return x;
}
