import { positionTakes, type PositionModel } from '../../../../shared-types/trial/position';
import { tQuantileUpper, tTwoSided } from '../../stats/distributions';
import { meanShown } from '../model/scale';
import { COLUMN } from '../table/columns';
import type { PositionFit } from './positions';

export interface Effect {
  difference: number;
  se: number;
  df: number | null;
  lower: number;
  upper: number;
  p: number;
}

/** Edge pots minus inner pots, with both adjusted means and their intervals. */
export interface EdgeEffect extends Effect {
  edgeMean: number;
  innerMean: number;
  edgeInterval: [number, number];
  innerInterval: [number, number];
}

/** Slope of the response over rows and columns, within trays. */
export interface Gradient {
  /** Change per row towards the back, and per column to the right. */
  perRow: Effect;
  perColumn: Effect;
}

/** Edge pots minus inner pots, treatments and blocks allowed for. */
export function edgeEffect(positions: readonly PositionFit[]): EdgeEffect | null {
  const result = positions.find((p) => positionTakes[p.model] === 'edge')?.result;
  const comparison = result?.comparisons.find((c) => c.of[0] === COLUMN.edge);
  const row = comparison?.rows[0];
  const means = result?.means.find((m) => m.of[0] === COLUMN.edge)?.rows;
  const [edge, inner] = ['edge', 'inner'].map((place) => {
    const row = means?.find((m) => m[COLUMN.edge] === place);
    return row && meanShown(row);
  });
  if (!row || edge === undefined || inner === undefined) return null;
  const sign = row.a === 'edge' ? 1 : -1;
  return {
    difference: sign * row.difference,
    se: row.se,
    df: row.df,
    lower: sign === 1 ? row.lower : -row.upper,
    upper: sign === 1 ? row.upper : -row.lower,
    p: row.p,
    edgeMean: edge.mean,
    innerMean: inner.mean,
    edgeInterval: [edge.lower, edge.upper],
    innerInterval: [inner.lower, inner.upper],
  };
}

/** Change of the response per µmol m⁻² s⁻¹. */
export function lightEffect(positions: readonly PositionFit[], confidence: number): Effect | null {
  return slope(positions, 'light', COLUMN.ppfd, confidence);
}

/** Direction and size of a plane over each tray; null where the model could not be fitted. */
export function gradientOf(positions: readonly PositionFit[], confidence: number): Gradient | null {
  const perRow = slope(positions, 'linear', COLUMN.row, confidence);
  const perColumn = slope(positions, 'linear', COLUMN.column, confidence);
  return perRow && perColumn ? { perRow, perColumn } : null;
}

function slope(
  positions: readonly PositionFit[],
  model: PositionModel,
  name: string,
  confidence: number,
): Effect | null {
  const result = positions.find((p) => p.model === model)?.result;
  const row = result?.coefficients.find((c) => c.name === name);
  if (!row || !Number.isFinite(row.estimate)) return null;
  const df = row.df ?? Infinity;
  const half = tQuantileUpper((1 - confidence) / 2, df) * row.se;
  return {
    difference: row.estimate,
    se: row.se,
    df: row.df,
    lower: row.estimate - half,
    upper: row.estimate + half,
    p: tTwoSided(row.estimate / row.se, df),
  };
}
