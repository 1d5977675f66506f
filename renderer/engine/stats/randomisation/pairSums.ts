import type { BlockProjection } from './blocks';
import { add, real, whole } from '../../entry';

/**
 * Sums of P over the rows of each two of `m` combinations, symmetric, into `to` (m × m): n²/2 additions
 * where all rows vary together, fewer where they fall apart into blocks.
 */
export function pairSums(
  { blocks, basis }: BlockProjection,
  m: number,
  to: Float64Array,
): (cells: Int32Array) => void {
  const r = basis.length;
  const n = basis[0]?.length ?? 0;
  // Row by row, so that all that a row adds lies side by side.
  const basisRows = new Float64Array(n * r);
  basis.forEach((column, c) => column.forEach((value, i) => (basisRows[i * r + c] = value)));
  const along = new Float64Array(m * r);
  const own = new Int32Array(blocks.reduce((size, { rows }) => Math.max(size, rows.length), 0));
  return (cells) => {
    to.fill(0);
    along.fill(0);
    for (const { rows, w } of blocks) {
      const k = rows.length;
      for (let a = 0; a < k; a++) {
        const row = whole(rows, a);
        const cell = whole(cells, row);
        own[a] = cell;
        const from = a * k;
        const at = cell * m;
        for (let b = 0; b < a; b++) add(to, at + whole(own, b), real(w, from + b));
        // Each two rows count once, so that half of what a row has with itself is doubled below.
        add(to, at + cell, 0.5 * real(w, from + a));
        for (let c = 0; c < r; c++) add(along, cell * r + c, real(basisRows, row * r + c));
      }
    }
    for (let c = 0; c < m; c++) {
      for (let e = 0; e <= c; e++) {
        let sum = real(to, c * m + e) + real(to, e * m + c);
        for (let k = 0; k < r; k++) sum -= real(along, c * r + k) * real(along, e * r + k);
        to[c * m + e] = sum;
        to[e * m + c] = sum;
      }
    }
  };
}
