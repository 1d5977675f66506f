import { SPATIAL_PARAMETERS } from './slopes';
import type { Ar1Point, Ar1Shape } from './point';
import { real } from '../../../entry';

/** Neighbours more alike than this are one and the same for arithmetic. */
export const CLOSEST = 1 - 1e-5;
/** In logistic coordinates. */
const LONGEST_STEP = 1.5;

export interface Ar1Limits {
  /** Whether there are different rows (columns) at all, and whether ρ < 0 makes sense. */
  row: { free: boolean; least: number };
  column: { free: boolean; least: number };
  nugget: boolean;
  /** Whether each random unit's variance can be told from the fixed effects. */
  units: readonly boolean[];
}

export function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

/** Logistic coordinates, in which the valleys towards a correlation of 1 are nearly straight. */
export const toLogit = (share: number): number => Math.log(share / (1 - share));
const fromLogit = (value: number): number => 1 / (1 + Math.exp(-value));

/**
 * Derivatives of the variance parameters in (log of V's size, logits of row and column
 * correlation and of the nugget share, logs of the unit ratios).
 */
export function jacobian({ shape, total }: Ar1Point): Float64Array {
  const { rowCorrelation, columnCorrelation, nuggetShare: h, unitRatios } = shape;
  const count = SPATIAL_PARAMETERS + unitRatios.length;
  const bend = total * h * (1 - h);
  const out = new Float64Array(count * count);
  out.set([total * (1 - h), 0, 0, -bend], 0);
  out.set([0, (1 - rowCorrelation ** 2) / 2, 0, 0], count);
  out.set([0, 0, (1 - columnCorrelation ** 2) / 2, 0], 2 * count);
  out.set([total * h, 0, 0, bend], 3 * count);
  unitRatios.forEach((ratio, k) => {
    const row = (SPATIAL_PARAMETERS + k) * count;
    out[row] = total * ratio;
    out[row + SPATIAL_PARAMETERS + k] = total * ratio;
  });
  return out;
}

export function slid(from: Ar1Shape, step: Float64Array, limits: Ar1Limits): Ar1Shape {
  const bounded = (value: number): number => clamp(value, -LONGEST_STEP, LONGEST_STEP);
  const correlation = (rho: number, change: number, least: number): number =>
    clamp(2 * fromLogit(toLogit((1 + rho) / 2) + bounded(change)) - 1, least, CLOSEST);
  return {
    rowCorrelation: limits.row.free
      ? correlation(from.rowCorrelation, real(step, 1), limits.row.least)
      : 0,
    columnCorrelation: limits.column.free
      ? correlation(from.columnCorrelation, real(step, 2), limits.column.least)
      : 0,
    nuggetShare:
      from.nuggetShare > 0
        ? fromLogit(toLogit(from.nuggetShare) + bounded(real(step, 3)))
        : from.nuggetShare,
    unitRatios: from.unitRatios.map(
      (ratio, k) => ratio * Math.exp(bounded(real(step, SPATIAL_PARAMETERS + k))),
    ),
  };
}
