import type { BlockProjection } from './blocks';
import { add, real, whole } from '../../entry';

/**
 * Sums of P over the rows of each two of `m` combinations, symmetric, into `to` (m × m). The rows of a
 * block are put in order of their combination first, so that every sum runs without a look at where it
 * belongs.
 */
export function pairSums(
  { blocks, basis }: BlockProjection,
  m: number,
  to: Float64Array,
): (cells: Int32Array) => void {
  const r = basis.length;
  const most = blocks.reduce((size, { rows }) => Math.max(size, rows.length), 0);
  const order = new Int32Array(most);
  const ends = new Int32Array(m);
  const present = new Int32Array(m);
  const along = new Float64Array(m * r);
  /** Numbers of the rows of a block in order of their combination; how many combinations there are. */
  const sort = (rows: Int32Array, cells: Int32Array): number => {
    ends.fill(0);
    for (let a = 0; a < rows.length; a++) {
      const cell = whole(cells, whole(rows, a));
      ends[cell] = whole(ends, cell) + 1;
    }
    let found = 0;
    let before = 0;
    for (let cell = 0; cell < m; cell++) {
      const count = whole(ends, cell);
      if (count > 0) present[found++] = cell;
      ends[cell] = before;
      before += count;
    }
    for (let a = 0; a < rows.length; a++) {
      const cell = whole(cells, whole(rows, a));
      const at = whole(ends, cell);
      order[at] = a;
      ends[cell] = at + 1;
    }
    return found;
  };
  return (cells) => {
    to.fill(0);
    along.fill(0);
    for (const { rows, w } of blocks) {
      const k = rows.length;
      const found = sort(rows, cells);
      let start = 0;
      for (let f = 0; f < found; f++) {
        const cell = whole(present, f);
        const end = whole(ends, cell);
        let first = 0;
        for (let g = 0; g <= f; g++) {
          const other = whole(present, g);
          const last = whole(ends, other);
          let sum = 0;
          for (let a = start; a < end; a++) {
            const from = whole(order, a) * k;
            for (let b = first; b < last; b++) sum += real(w, from + whole(order, b));
          }
          add(to, cell * m + other, sum);
          first = last;
        }
        for (let c = 0; c < r; c++) {
          const column = basis[c];
          if (!column) continue;
          let sum = 0;
          for (let a = start; a < end; a++) sum += real(column, whole(rows, whole(order, a)));
          add(along, cell * r + c, sum);
        }
        start = end;
      }
    }
    for (let c = 0; c < m; c++) {
      for (let e = 0; e <= c; e++) {
        let sum = real(to, c * m + e);
        for (let k = 0; k < r; k++) sum -= real(along, c * r + k) * real(along, e * r + k);
        to[c * m + e] = sum;
        to[e * m + c] = sum;
      }
    }
  };
}
