import { type PositionGrid, type GridBlock } from './grid';
import { powers, sumShared, timesBlock, timesShared } from './gridSums';
import type { Ar1Shape } from './point';
import { dotRange } from '../linalg';
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

/** tr MV_i of a spatial term over one block, from the sums of M by distance. */
export function traceWithTerm(
  sums: Float64Array,
  { rowPowers, columnPowers }: Ar1Variance,
  { row, column, scale }: SpatialTerm,
): number {
  const along = rowPowers[row] ?? NONE;
  const across = columnPowers[column] ?? NONE;
  let trace = 0;
  along.forEach((factor, r) => {
    trace += factor * dotRange(sums, r * across.length, across, 0, across.length);
  });
  return scale * trace;
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

/** tr MV_i over one block for every i, in the order of κ; `sums`: of the symmetric M by distance. */
export function tracesWithSlopes(
  matrix: Float64Array,
  sums: Float64Array,
  block: GridBlock,
  variance: Ar1Variance,
): number[] {
  const size = block.rows.length;
  let diagonal = 0;
  for (let i = 0; i < size; i++) diagonal += real(matrix, i * (size + 1));
  return [
    ...spatialSlopes(variance).map((term) => traceWithTerm(sums, variance, term)),
    diagonal,
    ...block.codes.map((codes) => sumShared(matrix, codes)),
  ];
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
