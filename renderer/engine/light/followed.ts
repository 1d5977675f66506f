import type { Calibration } from './calibration';
import { alike, factored, METER, solved } from './calibration';
import { columnsOf } from './errorParts';
import { deviationOf } from './range';
import type { ShelfLight } from './shelfLight';
import type { PointMm } from './sources/direct';
import { num, real } from '../entry';

/** Common practice, no source: what a change of lamps or dimming may add to what is carried over it. */
export const CHANGE = 0.05;
/** A meter under good care does not repeat itself better than this. */
const LEAST_SINGLE = 0.01;

/**
 * What is not known of a figure, as shares of it: standard deviations that each come of one range, and
 * the variance of what is made of many.
 */
export interface Unknown {
  ranges: readonly number[];
  rest: number;
}

/** How a figure follows the readings: its weights on them, and how alike its place is to theirs. */
interface Following {
  weights: Float64Array;
  near: Float64Array;
}

export interface Followed {
  /** By how much readings that agree too badly widen it all. */
  widened: number;
  at: (point: PointMm, shares: readonly number[]) => Following;
  /** Of a figure that follows them: its own columns, and how alike its places are among themselves. */
  left: (following: Following, own: readonly number[], alikeItself: number) => Unknown;
}

const dot = (a: Float64Array, b: Float64Array) =>
  a.reduce((sum, value, i) => sum + value * real(b, i), 0);

/** Several figures' following as that of their mean. */
export function averaged(each: readonly Following[], weights: Float64Array): Following {
  const n = each[0]?.weights.length ?? 0;
  const mean = (of: (one: Following) => Float64Array) =>
    Float64Array.from({ length: n }, (_, k) =>
      each.reduce((total, one, i) => total + real(weights, i) * real(of(one), k), 0),
    );
  return { weights: mean((one) => one.weights), near: mean((one) => one.near) };
}

/**
 * What is left unknown where a figure follows readings with weights w: of a part that is c₀ at the
 * figure and cᵢ at the readings c₀ − Σ wᵢ cᵢ, of what all readings share its whole, of their own errors
 * the sum of squares (the error of any linear predictor; Rasmussen & Williams 2006, 2.5).
 */
export function followedBy(calibration: Calibration, light: ShelfLight, pattern: number): Followed {
  const { fit, places, placeOf, carried } = calibration;
  const { samples } = fit;
  const n = samples.length;
  const columns = columnsOf(light.partsAt(places));
  const shared = Float64Array.from(calibration.shared);
  const single = Math.max(fit.sizes.single, LEAST_SINGLE);
  const alone = Float64Array.from(samples, ({ dark }) => single ** 2 * (1 + dark ** 2));
  const together = new Float64Array(n * n);
  samples.forEach((a, i) => samples.forEach((b, j) => (together[i * n + j] = alike(a, b))));
  const ofMeter = [METER, carried || light.changed ? deviationOf(CHANGE) : 0];
  const covariance = (i: number, j: number) =>
    columns.reduce((sum, column) => sum + real(column, i) * real(column, j), 0) +
    ofMeter.reduce((sum, value) => sum + value ** 2, 0) +
    real(shared, i) * real(shared, j) +
    pattern ** 2 * real(together, i * n + j) +
    (i === j ? real(alone, i) : 0);
  return {
    widened: widenedBy(calibration, covariance),
    at: ({ xMm, yMm }, shares) => {
      const place = placeOf(xMm, yMm, shares);
      const near = Float64Array.from(samples, (sample) => alike(sample, place));
      return { weights: fit.weightsAt(place), near };
    },
    left: ({ weights, near }, own, alikeItself) => {
      const whole = weights.reduce((sum, w) => sum + w, 0);
      const smooth = weights.reduce(
        (sum, w, i) =>
          sum + w * (dot(together.subarray(i * n, i * n + n), weights) - 2 * real(near, i)),
        alikeItself,
      );
      return {
        ranges: [
          ...columns.map((column, k) => num(own, k) - dot(weights, column)),
          ...ofMeter.map((value) => value * whole),
          dot(weights, shared),
        ],
        rest:
          pattern ** 2 * Math.max(0, smooth) +
          weights.reduce((sum, w, i) => sum + w ** 2 * real(alone, i), 0),
      };
    },
  };
}

/** Birge's ratio beyond what chance gives 19 of 20 times; 1 where readings and estimate agree. */
function widenedBy({ fit }: Calibration, covariance: (i: number, j: number) => number): number {
  const n = fit.samples.length;
  const values = Float64Array.from(fit.samples, ({ value }) => value);
  const square = dot(values, solved(factored(n, covariance), values));
  // Wilson & Hilferty 1931: the 95th percentile of χ² with n df.
  const most = n * (1 - 2 / (9 * n) + 1.645 * Math.sqrt(2 / (9 * n))) ** 3;
  return Math.max(1, Math.sqrt(square / most));
}
