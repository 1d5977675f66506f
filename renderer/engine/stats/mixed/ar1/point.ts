import { type PositionGrid, type GridBlock } from './grid';
import { addShared, blockMatrix, powers } from './gridSums';
import { choleskyInPlace, inverseFromCholesky, logDeterminant, solveLowerRows } from '../cholesky';
import { addScaled, dotRange, selfProduct } from '../linalg';
import type { OrthogonalDesign } from '../orthogonal';
import { add, num, real } from '../../../entry';

/** All of V but its size. */
export interface Ar1Shape {
  /** Correlation of neighbours one step apart. */
  rowCorrelation: number;
  columnCorrelation: number;
  /** Of spatial variance and nugget together. */
  nuggetShare: number;
  /** Variance of each random unit over spatial variance and nugget together. */
  unitRatios: readonly number[];
}

export interface Ar1Data {
  grid: PositionGrid;
  design: OrthogonalDesign;
  /** Orthonormal basis Q of X, `rank` rows of length n. */
  basis: Float64Array;
  /** By block: the rows of the basis that are not zero in it. */
  active: readonly Int32Array[];
  y: Float64Array;
  /** The normal equations solved last: the next question is often about the same shape. */
  last: { shape: Ar1Shape; normal: Ar1Normal | null } | null;
}

export interface Ar1Point {
  shape: Ar1Shape;
  /** −2 log L, profiled over the size of V. */
  value: number;
  /** Spatial variance and nugget together. */
  total: number;
}

interface Whitened {
  block: GridBlock;
  /** Rows of the basis that are not zero here. */
  active: Int32Array;
  factor: Float64Array;
  /** L⁻¹ times those and the response: one row each. */
  rows: Float64Array;
}

function whiten(
  data: Ar1Data,
  block: GridBlock,
  active: Int32Array,
  factor: Float64Array,
): Whitened {
  const { y } = data;
  const size = block.rows.length;
  const count = active.length;
  const rows = new Float64Array((count + 1) * size);
  rows.set(activeRows(data, block, active));
  block.rows.forEach((row, i) => (rows[count * size + i] = real(y, row)));
  solveLowerRows(factor, size, rows, count + 1);
  return { block, active, factor, rows };
}

/** Rows of the basis over a block. */
export function activeRows(
  { basis, design: { n } }: Ar1Data,
  block: GridBlock,
  active: Int32Array,
): Float64Array {
  const size = block.rows.length;
  const rows = new Float64Array(active.length * size);
  active.forEach((k, own) => {
    block.rows.forEach((row, i) => (rows[own * size + i] = real(basis, k * n + row)));
  });
  return rows;
}

const NONE = new Float64Array(0);

function correlationOf(data: Ar1Data, block: GridBlock, shape: Ar1Shape): Float64Array {
  const share = 1 - shape.nuggetShare;
  const [row = NONE] = powers(shape.rowCorrelation, data.grid.rowDistances);
  const [column = NONE] = powers(shape.columnCorrelation, data.grid.columnDistances);
  const out = blockMatrix(
    block,
    row.map((factor) => share * factor),
    column,
  );
  const size = block.rows.length;
  for (let i = 0; i < size; i++) out[i * size + i] = real(out, i * size + i) + shape.nuggetShare;
  block.codes.forEach((codes, k) => {
    const ratio = num(shape.unitRatios, k);
    if (ratio > 0) addShared(out, codes, ratio);
  });
  return out;
}

export interface Ar1Normal {
  value: number;
  total: number;
  /** (QᵀH⁻¹Q)⁻¹ and the coefficients in the basis Q. */
  phi: Float64Array;
  beta: Float64Array;
  blocks: Whitened[];
}

/**
 * Normal equations at one shape, V in units of spatial variance and nugget together; null where V
 * is singular.
 */
export function ar1Normal(data: Ar1Data, shape: Ar1Shape): Ar1Normal | null {
  if (data.last?.shape !== shape) data.last = { shape, normal: solveNormal(data, shape) };
  return data.last.normal;
}

function solveNormal(data: Ar1Data, shape: Ar1Shape): Ar1Normal | null {
  const { design } = data;
  const { n, rank, logGram } = design;
  const blocks: Whitened[] = [];
  const info = new Float64Array(rank * rank);
  const right = new Float64Array(rank);
  let logDet = 0;
  for (const [b, block] of data.grid.blocks.entries()) {
    const active = data.active[b] ?? new Int32Array(0);
    const size = block.rows.length;
    // Blocks that are alike share their factor.
    let factor = blocks[block.like]?.factor;
    if (!factor) {
      factor = correlationOf(data, block, shape);
      if (!choleskyInPlace(factor, size)) return null;
    }
    const whitened = whiten(data, block, active, factor);
    logDet += logDeterminant(whitened.factor, size);
    const count = active.length;
    const own = selfProduct(whitened.rows, count + 1, size);
    active.forEach((i, at) => {
      active.forEach((j, other) => {
        add(info, i * rank + j, real(own, at * (count + 1) + other));
      });
      add(right, i, real(own, at * (count + 1) + count));
    });
    blocks.push(whitened);
  }
  if (!choleskyInPlace(info, rank)) return null;
  const phi = inverseFromCholesky(info, rank);
  const beta = new Float64Array(rank);
  for (let i = 0; i < rank; i++) beta[i] = dotRange(phi, i * rank, right, 0, rank);
  // Residuals, not differences of squares: nothing cancels.
  let remainder = 0;
  for (const { block, active, rows } of blocks) {
    const size = block.rows.length;
    const rest = rows.slice(active.length * size);
    active.forEach((k, own) => addScaled(rest, 0, -real(beta, k), rows, own * size, size));
    remainder += dotRange(rest, 0, rest, 0, size);
  }
  const free = n - rank;
  const total = remainder / free;
  const value =
    free * (Math.log(2 * Math.PI * total) + 1) + logDet + logDeterminant(info, rank) + logGram;
  return { value, total, phi, beta, blocks };
}

/** The REML criterion for one shape of the correlation; Infinity where it is singular. */
export function ar1Point(data: Ar1Data, shape: Ar1Shape): Ar1Point {
  const normal = ar1Normal(data, shape);
  return { shape, value: normal?.value ?? Infinity, total: normal?.total ?? NaN };
}
