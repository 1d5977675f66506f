import { timesTransposed } from '../linalg';
import { real, whole } from '../../../entry';
import type { GridBlock, PositionGrid } from './grid';

/** ρ^d and its first and second derivative in ρ, for each distance. */
export function powers(rho: number, distances: Float64Array): Float64Array[] {
  return [0, 1, 2].map((order) =>
    distances.map((d) => {
      // Groups are unrelated whatever ρ; and 0 × 0⁻¹ is none of the derivative's business.
      if (d === Infinity) return 0;
      if (order === 0) return d === 0 ? 1 : rho ** d;
      if (order === 1) return d === 0 ? 0 : d * rho ** (d - 1);
      return d === 0 || d === 1 ? 0 : d * (d - 1) * rho ** (d - 2);
    }),
  );
}

/** The matrix of a block whose entries are products of a row and a column factor. */
export function blockMatrix(
  block: GridBlock,
  rowFactor: Float64Array,
  columnFactor: Float64Array,
): Float64Array {
  const { rowStep, columnStep } = block;
  const out = new Float64Array(rowStep.length);
  for (let i = 0; i < out.length; i++) {
    out[i] = real(rowFactor, whole(rowStep, i)) * real(columnFactor, whole(columnStep, i));
  }
  return out;
}

/**
 * `matrix` (rows of the block's length) times `blockMatrix` of the block. On a lattice of R rows
 * and C columns a product takes R·C·(R + C) steps a row instead of one a pair of pots, whether or
 * not all places are taken.
 */
export function timesBlock(
  matrix: Float64Array,
  count: number,
  block: GridBlock,
  rowFactor: Float64Array,
  columnFactor: Float64Array,
): Float64Array {
  const size = block.rows.length;
  const { lattice } = block;
  if (!lattice || lattice.rows * lattice.columns * (lattice.rows + lattice.columns) > size * size) {
    return timesTransposed(matrix, count, blockMatrix(block, rowFactor, columnFactor), size, size);
  }
  const { rowOf, columnOf, rows, columns } = lattice;
  const along = Float64Array.from(lattice.rowSteps, (step) => real(rowFactor, step));
  const across = Float64Array.from(lattice.columnSteps, (step) => real(columnFactor, step));
  const product = new Float64Array(count * size);
  const spread = new Float64Array(rows * columns);
  for (let a = 0; a < count; a++) {
    spread.fill(0);
    for (let i = 0; i < size; i++) {
      // By columns, so that both products below are dots of rows.
      const at = whole(columnOf, i) * rows + whole(rowOf, i);
      spread[at] = real(spread, at) + real(matrix, a * size + i);
    }
    const half = timesTransposed(along, rows, spread, columns, rows);
    const full = timesTransposed(half, rows, across, columns, columns);
    for (let i = 0; i < size; i++) {
      product[a * size + i] = real(full, whole(rowOf, i) * columns + whole(columnOf, i));
    }
  }
  return product;
}

/** Sums of a matrix over the pairs of pots of a block with the same distances, row distance major. */
export function sumsByDistance(
  matrix: Float64Array,
  { rowStep, columnStep }: GridBlock,
  { rowDistances, columnDistances }: PositionGrid,
): Float64Array {
  const columns = columnDistances.length;
  const sums = new Float64Array(rowDistances.length * columns);
  for (let i = 0; i < matrix.length; i++) {
    const at = whole(rowStep, i) * columns + whole(columnStep, i);
    sums[at] = real(sums, at) + real(matrix, i);
  }
  return sums;
}

/** Sum of a matrix over the pairs of pots that share a level. */
export function sumShared(matrix: Float64Array, codes: Int32Array): number {
  const size = codes.length;
  let sum = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) if (codes[i] === codes[j]) sum += real(matrix, i * size + j);
  }
  return sum;
}

/** Adds `weight` wherever two pots share a level. */
export function addShared(target: Float64Array, codes: Int32Array, weight: number): void {
  const size = codes.length;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      if (codes[i] === codes[j]) target[i * size + j] = real(target, i * size + j) + weight;
    }
  }
}

/** `matrix` (rows of the codes' length) times the matrix that is 1 wherever two pots share a level. */
export function timesShared(matrix: Float64Array, count: number, codes: Int32Array): Float64Array {
  const size = codes.length;
  const product = new Float64Array(count * size);
  for (let a = 0; a < count; a++) {
    const sums = new Map<number, number>();
    for (let i = 0; i < size; i++) {
      const code = whole(codes, i);
      sums.set(code, (sums.get(code) ?? 0) + real(matrix, a * size + i));
    }
    for (let i = 0; i < size; i++) product[a * size + i] = sums.get(whole(codes, i)) ?? 0;
  }
  return product;
}
