import {
  addShared,
  blockMatrix,
  powers,
  timesBlock,
  timesShared,
  type PositionGrid,
  type GridBlock,
} from './grid';
import type { Ar1Shape } from './point';
import { num, real } from '../../../entry';

/**
 * Order of the variance parameters κ in gradients and curvatures: spatial variance s, row
 * correlation, column correlation, nugget g, then the variance v_k of each random unit.
 */
export const SPATIAL_PARAMETERS = 4;

/** V = s·Σ + g·I + Σ v_k Z_kZ_kᵀ at one point, with Σ_ab = ρ_row^|Δrow| · ρ_column^|Δcolumn|. */
export interface Ar1Variance {
  s: number;
  g: number;
  v: readonly number[];
  /** ρ^d and its first and second derivative in ρ, by the distances of the grid. */
  rowPowers: readonly Float64Array[];
  columnPowers: readonly Float64Array[];
}

/** `total`: spatial variance and nugget together. */
export function ar1Variance(grid: PositionGrid, shape: Ar1Shape, total: number): Ar1Variance {
  return {
    s: total * (1 - shape.nuggetShare),
    g: total * shape.nuggetShare,
    v: shape.unitRatios.map((ratio) => total * ratio),
    rowPowers: powers(shape.rowCorrelation, grid.rowDistances),
    columnPowers: powers(shape.columnCorrelation, grid.columnDistances),
  };
}

/** How many parameters κ has. */
export const parameterCount = ({ v }: Ar1Variance): number => SPATIAL_PARAMETERS + v.length;

/** `scale` times the derivative of Σ of these orders in the row and in the column correlation. */
interface SpatialTerm {
  row: number;
  column: number;
  scale: number;
}

/** V_i = ∂V/∂κ_i of the spatial variance and of the two correlations. */
const spatialSlopes = ({ s }: Ar1Variance): readonly SpatialTerm[] => [
  { row: 0, column: 0, scale: 1 },
  { row: 1, column: 0, scale: s },
  { row: 0, column: 1, scale: s },
];

/** The V_ij = ∂²V/∂κ_i∂κ_j that are not zero, i ≤ j. */
export const spatialBends = ({
  s,
}: Ar1Variance): readonly (SpatialTerm & { i: number; j: number })[] => [
  { i: 0, j: 1, row: 1, column: 0, scale: 1 },
  { i: 0, j: 2, row: 0, column: 1, scale: 1 },
  { i: 1, j: 1, row: 2, column: 0, scale: s },
  { i: 1, j: 2, row: 1, column: 1, scale: s },
  { i: 2, j: 2, row: 0, column: 2, scale: s },
];

const NONE = new Float64Array(0);

/** The matrix of a spatial term over one block. */
export function termMatrix(
  block: GridBlock,
  { rowPowers, columnPowers }: Ar1Variance,
  { row, column, scale }: SpatialTerm,
): Float64Array {
  const out = blockMatrix(block, rowPowers[row] ?? NONE, columnPowers[column] ?? NONE);
  if (scale !== 1) for (let i = 0; i < out.length; i++) out[i] = scale * real(out, i);
  return out;
}

/** `count` rows of the block's length times the matrix of a spatial term. */
export function timesTerm(
  rows: Float64Array,
  count: number,
  block: GridBlock,
  { rowPowers, columnPowers }: Ar1Variance,
  { row, column, scale }: SpatialTerm,
): Float64Array {
  const rowFactor = (rowPowers[row] ?? NONE).map((value) => scale * value);
  return timesBlock(rows, count, block, rowFactor, columnPowers[column] ?? NONE);
}

/** Every V_i over one block, in the order of κ. */
export function slopesOf(block: GridBlock, variance: Ar1Variance): Float64Array[] {
  const size = block.rows.length;
  const identity = new Float64Array(size * size);
  for (let i = 0; i < size; i++) identity[i * size + i] = 1;
  const shared = block.codes.map((codes) => {
    const out = new Float64Array(size * size);
    addShared(out, codes, 1);
    return out;
  });
  const spatial = spatialSlopes(variance).map((term) => termMatrix(block, variance, term));
  return [...spatial, identity, ...shared];
}

/** `count` rows of the block's length times every V_i; that of the nugget is `rows` itself. */
export function timesSlopes(
  rows: Float64Array,
  count: number,
  block: GridBlock,
  variance: Ar1Variance,
): Float64Array[] {
  return [
    ...spatialSlopes(variance).map((term) => timesTerm(rows, count, block, variance, term)),
    rows,
    ...block.codes.map((codes) => timesShared(rows, count, codes)),
  ];
}

/**
 * V⁻¹V_i for every i. That of the spatial variance follows from the others, for
 * V = sΣ + gI + Σ v_k Z_kZ_kᵀ gives V⁻¹Σ = (I − gV⁻¹ − Σ v_k V⁻¹Z_kZ_kᵀ) / s.
 */
export function inverseTimesSlopes(
  inverse: Float64Array,
  block: GridBlock,
  variance: Ar1Variance,
): Float64Array[] {
  const { s, g, v } = variance;
  const size = block.rows.length;
  const units = block.codes.map((codes) => timesShared(inverse, size, codes));
  const [, ...correlations] = spatialSlopes(variance);
  const spatial = inverse.map((value, at) => {
    let left = (at % (size + 1) === 0 ? 1 : 0) - g * value;
    for (let k = 0; k < units.length; k++) left -= num(v, k) * (units[k]?.[at] ?? 0);
    return left / s;
  });
  return [
    spatial,
    ...correlations.map((term) => timesTerm(inverse, size, block, variance, term)),
    inverse,
    ...units,
  ];
}
