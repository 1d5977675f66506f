import type { BlockProjection } from './blocks';
import { add, real, whole } from '../../entry';

/** Below so many rows a combination it costs more to sort them than to take them as they come. */
const FEW = 8;

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
  const most = blocks.reduce((size, { rows }) => Math.max(size, rows.length), 0);
  const order = new Int32Array(most);
  const starts = new Int32Array(m + 1);
  return (cells) => {
    to.fill(0);
    for (const { rows, w } of blocks) {
      if (rows.length < FEW * m) {
        addPairs(to, m, w, rows, cells, order);
        continue;
      }
      sortByCell(rows, cells, order, starts);
      addBlock(to, m, w, rows.length, order, starts);
    }
    for (let c = 0; c < m; c++) {
      for (let e = 0; e <= c; e++) {
        const sum = real(to, c * m + e) + real(to, e * m + c);
        to[c * m + e] = sum;
        to[e * m + c] = sum;
      }
    }
    if (r > 0) takeOut(to, m, cells, basisRows, along);
  };
}

/** Places of a block by the combination of their rows, into `order`, and where each begins. */
function sortByCell(
  rows: Int32Array,
  cells: Int32Array,
  order: Int32Array,
  starts: Int32Array,
): void {
  const m = starts.length - 1;
  starts.fill(0);
  for (let a = 0; a < rows.length; a++) {
    const cell = whole(cells, whole(rows, a));
    starts[cell + 1] = whole(starts, cell + 1) + 1;
  }
  for (let c = 0; c < m; c++) starts[c + 1] = whole(starts, c + 1) + whole(starts, c);
  // Filled from the back, so that each start comes down to where its combination begins.
  for (let a = rows.length - 1; a >= 0; a--) {
    const end = whole(cells, whole(rows, a)) + 1;
    const at = whole(starts, end) - 1;
    order[at] = a;
    starts[end] = at;
  }
  for (let c = 0; c < m; c++) starts[c] = whole(starts, c + 1);
  starts[m] = rows.length;
}

/** Adds W over each two rows of a block, and half of what a row has with itself. */
function addPairs(
  to: Float64Array,
  m: number,
  w: Float64Array,
  rows: Int32Array,
  cells: Int32Array,
  cellOf: Int32Array,
): void {
  const k = rows.length;
  for (let a = 0; a < k; a++) cellOf[a] = whole(cells, whole(rows, a));
  // Two rows at a time read each combination once for both.
  let a = 0;
  for (; a + 1 < k; a += 2) {
    const [own, next] = [whole(cellOf, a) * m, whole(cellOf, a + 1) * m];
    const from = a * k;
    const below = from + k;
    for (let b = 0; b < a; b++) {
      const cell = whole(cellOf, b);
      to[own + cell] = real(to, own + cell) + real(w, from + b);
      to[next + cell] = real(to, next + cell) + real(w, below + b);
    }
    add(to, own + whole(cellOf, a), 0.5 * real(w, from + a));
    add(to, next + whole(cellOf, a), real(w, below + a));
    add(to, next + whole(cellOf, a + 1), 0.5 * real(w, below + a + 1));
  }
  if (a === k) return;
  const last = whole(cellOf, a) * m;
  for (let b = 0; b < a; b++) add(to, last + whole(cellOf, b), real(w, a * k + b));
  add(to, last + whole(cellOf, a), 0.5 * real(w, a * k + a));
}

/** The same by combinations, each with those before it. */
function addBlock(
  to: Float64Array,
  m: number,
  w: Float64Array,
  k: number,
  order: Int32Array,
  starts: Int32Array,
): void {
  for (let c = 0; c < m; c++) {
    const last = whole(starts, c + 1);
    for (let e = 0; e <= c; e++) {
      const first = whole(starts, e);
      const end = whole(starts, e + 1);
      let p = whole(starts, c);
      // Four rows at a time read each place once for all of them.
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      for (; p + 3 < last; p += 4) {
        const a0 = whole(order, p) * k;
        const a1 = whole(order, p + 1) * k;
        const a2 = whole(order, p + 2) * k;
        const a3 = whole(order, p + 3) * k;
        for (let q = first; q < end; q++) {
          const b = whole(order, q);
          s0 += real(w, a0 + b);
          s1 += real(w, a1 + b);
          s2 += real(w, a2 + b);
          s3 += real(w, a3 + b);
        }
      }
      for (; p < last; p++) {
        const from = whole(order, p) * k;
        for (let q = first; q < end; q++) s0 += real(w, from + whole(order, q));
      }
      const sum = s0 + s1 + (s2 + s3);
      add(to, c * m + e, c === e ? 0.5 * sum : sum);
    }
  }
}

/** Takes away what the basis has of each two combinations. */
function takeOut(
  to: Float64Array,
  m: number,
  cells: Int32Array,
  basisRows: Float64Array,
  along: Float64Array,
): void {
  const r = along.length / m;
  along.fill(0);
  for (let i = 0; i < cells.length; i++) {
    const at = whole(cells, i) * r;
    for (let k = 0; k < r; k++) add(along, at + k, real(basisRows, i * r + k));
  }
  for (let c = 0; c < m; c++) {
    for (let e = 0; e <= c; e++) {
      let sum = real(to, c * m + e);
      for (let k = 0; k < r; k++) sum -= real(along, c * r + k) * real(along, e * r + k);
      to[c * m + e] = sum;
      to[e * m + c] = sum;
    }
  }
}
