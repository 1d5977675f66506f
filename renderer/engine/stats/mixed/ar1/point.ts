import { addShared, blockMatrix, powers, type PositionGrid, type GridBlock } from './grid';
import { choleskyInPlace, inverseFromCholesky, logDeterminant, solveLowerRows } from '../cholesky';
import { addScaled, dotRange, selfProduct } from '../linalg';
import type { OrthogonalDesign } from '../orthogonal';
import { num, real } from '../../../entry';

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
  /** Orthonormal basis of X, `rank` rows of length n. */
  basis: Float64Array;
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
  factor: Float64Array;
  /** L⁻¹ times basis and response: rank + 1 rows. */
  rows: Float64Array;
}

function whiten(data: Ar1Data, block: GridBlock, correlation: Float64Array): Whitened | null {
  const { basis, y, design } = data;
  const { n, rank } = design;
  const size = block.rows.length;
  if (!choleskyInPlace(correlation, size)) return null;
  const rows = new Float64Array((rank + 1) * size);
  block.rows.forEach((row, i) => {
    for (let k = 0; k < rank; k++) rows[k * size + i] = real(basis, k * n + row);
    rows[rank * size + i] = real(y, row);
  });
  solveLowerRows(correlation, size, rows, rank + 1);
  return { block, factor: correlation, rows };
}

function correlationOf(data: Ar1Data, block: GridBlock, shape: Ar1Shape): Float64Array {
  const [row] = powers(shape.rowCorrelation, data.grid.rowDistances);
  const [column] = powers(shape.columnCorrelation, data.grid.columnDistances);
  const out = blockMatrix(block, row ?? new Float64Array(0), column ?? new Float64Array(0));
  const share = 1 - shape.nuggetShare;
  for (let i = 0; i < out.length; i++) out[i] = share * real(out, i);
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
  const gram = new Float64Array((rank + 1) * (rank + 1));
  let logDet = 0;
  for (const block of data.grid.blocks) {
    const whitened = whiten(data, block, correlationOf(data, block, shape));
    if (whitened === null) return null;
    const size = block.rows.length;
    logDet += logDeterminant(whitened.factor, size);
    const own = selfProduct(whitened.rows, rank + 1, size);
    addScaled(gram, 0, 1, own, 0, gram.length);
    blocks.push(whitened);
  }
  const info = new Float64Array(rank * rank);
  const right = new Float64Array(rank);
  for (let i = 0; i < rank; i++) {
    info.set(gram.subarray(i * (rank + 1), i * (rank + 1) + rank), i * rank);
    right[i] = real(gram, i * (rank + 1) + rank);
  }
  if (!choleskyInPlace(info, rank)) return null;
  const phi = inverseFromCholesky(info, rank);
  const beta = new Float64Array(rank);
  for (let i = 0; i < rank; i++) beta[i] = dotRange(phi, i * rank, right, 0, rank);
  // Residuals, not differences of squares: nothing cancels.
  let remainder = 0;
  for (const { block, rows } of blocks) {
    const size = block.rows.length;
    const rest = rows.slice(rank * size);
    for (let k = 0; k < rank; k++) addScaled(rest, 0, -real(beta, k), rows, k * size, size);
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
