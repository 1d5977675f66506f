import { ar1Curvature, freeInverse } from './curvature';
import { SPATIAL_PARAMETERS } from './slopes';
import { clamp, CLOSEST, jacobian, slid, toLogit, type Ar1Limits } from './logistic';
import { ar1Point, type Ar1Data, type Ar1Point, type Ar1Shape } from './point';
import { timesTransposed, transposed } from '../linalg';
import { Refusal } from '../../../../words';
import { num, real } from '../../../entry';

const MOST_STEPS = 60;
/** A start this much above the best one in −2 log L is not followed. */
const FAR_ABOVE = 10;
/** A variance below this share of the others may be zero. */
const SPECK = 1e-3;
export interface Ar1Optimum {
  point: Ar1Point;
  /** Variance parameters that are not held at an edge. */
  free: number[];
  settled: boolean;
}

/** A step in the variance parameters from a point, kept within the limits. */
function moved(from: Ar1Point, step: Float64Array, share: number, limits: Ar1Limits): Ar1Shape {
  const s = from.total * (1 - from.shape.nuggetShare);
  const g = from.total * from.shape.nuggetShare;
  const spatial = Math.max(s / 10, s + share * real(step, 0));
  const nugget = Math.max(0, g + share * real(step, 3));
  return {
    rowCorrelation: clamp(
      from.shape.rowCorrelation + share * real(step, 1),
      limits.row.least,
      CLOSEST,
    ),
    columnCorrelation: clamp(
      from.shape.columnCorrelation + share * real(step, 2),
      limits.column.least,
      CLOSEST,
    ),
    nuggetShare: nugget / (spatial + nugget),
    unitRatios: from.shape.unitRatios.map((ratio, k) => {
      const variance = from.total * ratio + share * real(step, SPATIAL_PARAMETERS + k);
      return Math.max(0, variance) / (spatial + nugget);
    }),
  };
}

/** Parameters that may move: not fixed, and not pressed against an edge by the gradient. */
function freeParameters(point: Ar1Point, gradient: Float64Array, limits: Ar1Limits): number[] {
  const { rowCorrelation, columnCorrelation, nuggetShare, unitRatios } = point.shape;
  const open = (at: number, value: number, least: number, most: number): boolean => {
    const slope = real(gradient, at);
    // Logistic coordinates come back to an edge within rounding only.
    return !(value <= least + 1e-9 && slope >= 0) && !(value >= most - 1e-9 && slope <= 0);
  };
  const free = [0];
  if (limits.row.free && open(1, rowCorrelation, limits.row.least, CLOSEST)) free.push(1);
  if (limits.column.free && open(2, columnCorrelation, limits.column.least, CLOSEST)) free.push(2);
  if (limits.nugget && open(3, nuggetShare, 0, 1)) free.push(3);
  unitRatios.forEach((ratio, k) => {
    const at = SPATIAL_PARAMETERS + k;
    if (limits.units[k] === true && open(at, ratio, 0, Infinity)) free.push(at);
  });
  return free;
}

function newton(
  curvature: Float64Array,
  gradient: Float64Array,
  free: readonly number[],
): { step: Float64Array; decrement: number } | null {
  const inverse = freeInverse(curvature, free);
  if (inverse === null) return null;
  const step = new Float64Array(gradient.length);
  let decrement = 0;
  free.forEach((k, i) => {
    free.forEach((l, j) => {
      step[k] = real(step, k) - real(inverse, i * free.length + j) * real(gradient, l);
    });
    decrement -= real(step, k) * real(gradient, k);
  });
  return { step, decrement };
}

/** The shape with a variance at zero opened where the gradient says that pays; null if none. */
function opened({ shape }: Ar1Point, gradient: Float64Array, limits: Ar1Limits): Ar1Shape | null {
  const pays = (at: number): boolean => real(gradient, at) < 0;
  if (limits.nugget && shape.nuggetShare === 0 && pays(3)) return { ...shape, nuggetShare: SPECK };
  const k = shape.unitRatios.findIndex(
    (ratio, u) => ratio === 0 && limits.units[u] === true && pays(SPATIAL_PARAMETERS + u),
  );
  if (k < 0) return null;
  return { ...shape, unitRatios: shape.unitRatios.map((ratio, u) => (u === k ? SPECK : ratio)) };
}

/** Sets variances that have dwindled to zero where that is no worse. */
function closed(data: Ar1Data, point: Ar1Point, limits: Ar1Limits): Ar1Point {
  let best = point;
  const attempt = (shape: Ar1Shape): void => {
    const tried = ar1Point(data, shape);
    if (tried.value <= best.value) best = tried;
  };
  const { nuggetShare, unitRatios } = point.shape;
  if (limits.nugget && nuggetShare > 0 && nuggetShare < SPECK) {
    attempt({ ...best.shape, nuggetShare: 0 });
  }
  unitRatios.forEach((ratio, k) => {
    if (!(ratio > 0 && ratio < SPECK)) return;
    attempt({ ...best.shape, unitRatios: best.shape.unitRatios.map((r, u) => (u === k ? 0 : r)) });
  });
  return best;
}

/** Average-information steps in logistic coordinates, damped, to near the optimum. */
function approach(data: Ar1Data, start: Ar1Point, limits: Ar1Limits, close: number): Ar1Point {
  let point = start;
  let damping = 1e-3;
  for (let count = 0; count < MOST_STEPS; count++) {
    const { gradient, average } = ar1Curvature(data, point, false);
    const opening = opened(point, gradient, limits);
    if (opening !== null) {
      const tried = ar1Point(data, opening);
      if (tried.value < point.value) {
        point = tried;
        continue;
      }
    }
    const size = gradient.length;
    const turn = transposed(jacobian(point), size, size);
    const slope = timesTransposed(turn, size, gradient, 1, size);
    const half = timesTransposed(turn, size, average, size, size);
    const curve = timesTransposed(half, size, turn, size, size);
    const above = [
      point.shape.nuggetShare > 0,
      ...point.shape.unitRatios.map((ratio) => ratio > 0),
    ];
    const free = freeParameters(point, gradient, limits).filter(
      (k) => k < 3 || above[k - 3] === true,
    );
    let next: Ar1Point | null = null;
    let promised = 0;
    for (let attempt = 0; attempt < 12; attempt++) {
      const damped = curve.slice();
      for (let k = 0; k < size; k++) {
        const at = k * (size + 1);
        damped[at] = real(damped, at) * (1 + damping) + 1e-12;
      }
      const towards = newton(damped, slope, free);
      if (towards === null) break;
      promised = towards.decrement;
      const tried = ar1Point(data, slid(point.shape, towards.step, limits));
      if (tried.value < point.value) {
        next = tried;
        damping = Math.max(1e-6, damping / 5);
        break;
      }
      damping *= 5;
    }
    if (next === null) return point;
    const gained = point.value - next.value;
    point = closed(data, next, limits);
    if (promised < close && gained < close) return point;
  }
  return point;
}

/** Newton steps proper, with the observed curvature, until only rounding is left. */
function polish(data: Ar1Data, start: Ar1Point, limits: Ar1Limits): Ar1Optimum {
  let point = start;
  let free: number[] = [];
  for (let count = 0; count < 8; count++) {
    const { gradient, observed, average } = ar1Curvature(data, point, true);
    free = freeParameters(point, gradient, limits);
    const towards =
      (observed === null ? null : newton(observed, gradient, free)) ??
      newton(average, gradient, free);
    if (towards === null) return { point, free, settled: false };
    const { step, decrement } = towards;
    const nearly = decrement < 1e-9;
    let next: Ar1Point | null = null;
    for (let share = 1; share > 1e-6 && next === null; share /= 2) {
      const tried = ar1Point(data, moved(point, step, share, limits));
      if (tried.value < point.value + (nearly ? 1e-9 : 0)) next = tried;
    }
    if (next === null) return { point, free, settled: decrement < 1e-6 };
    point = next;
    if (nearly) return { point, free, settled: true };
  }
  return { point, free, settled: false };
}

function finish(data: Ar1Data, near: Ar1Point, limits: Ar1Limits): Ar1Optimum {
  const first = polish(data, near, limits);
  if (first.settled) return first;
  return polish(data, approach(data, first.point, limits, 1e-9), limits);
}

function apart(a: Ar1Shape, b: Ar1Shape): boolean {
  const distance = (p: number, q: number): number => Math.abs(toLogit(p) - toLogit(q));
  return (
    distance((1 + a.rowCorrelation) / 2, (1 + b.rowCorrelation) / 2) +
      distance((1 + a.columnCorrelation) / 2, (1 + b.columnCorrelation) / 2) +
      (a.nuggetShare > 0 && b.nuggetShare > 0 ? distance(a.nuggetShare, b.nuggetShare) : 0) +
      a.unitRatios.reduce((sum, ratio, k) => sum + 5 * Math.abs(ratio - num(b.unitRatios, k)), 0) >
    1.5
  );
}

/**
 * Shape and variances at which the REML criterion is least. The criterion may have several
 * valleys (a smooth surface with a nugget, a rough one without), so the best starts of a coarse
 * grid that lie apart are followed: four in a small trial, two in one where each step is costly.
 */
export function ar1Optimum(data: Ar1Data, limits: Ar1Limits): Ar1Optimum {
  const small = data.design.n <= 250;
  const grid = small ? [0.1, 0.5, 0.85] : [0.3, 0.85];
  const along = ({ free, least }: { free: boolean; least: number }): number[] => {
    if (!free) return [0];
    // Neighbours that compete are unlike; one start covers that side in a small trial.
    return small && least < 0 ? [-0.4, ...grid] : grid;
  };
  const rows = along(limits.row);
  const columns = along(limits.column);
  const points: Ar1Point[] = [];
  const levels = limits.units.some(Boolean) ? [0, 0.3] : [0];
  for (const rowCorrelation of rows) {
    for (const columnCorrelation of columns) {
      for (const nuggetShare of limits.nugget ? [0.05, 0.3, 0.7] : [0]) {
        for (const level of levels) {
          const unitRatios = limits.units.map((free) => (free ? level : 0));
          points.push(
            ar1Point(data, { rowCorrelation, columnCorrelation, nuggetShare, unitRatios }),
          );
        }
      }
    }
  }
  const ordered = points
    .filter((one) => Number.isFinite(one.value))
    .sort((a, b) => a.value - b.value);
  const most = small ? 4 : 2;
  const chosen: Ar1Point[] = [];
  for (const one of ordered) {
    if (one.value > (ordered[0]?.value ?? 0) + FAR_ABOVE) break;
    if (chosen.length < most && chosen.every((c) => apart(c.shape, one.shape))) chosen.push(one);
  }
  const near = chosen
    .map((start) => approach(data, start, limits, 1e-2))
    .sort((a, b) => a.value - b.value);
  const least = near[0]?.value ?? Infinity;
  let best: Ar1Optimum | null = null;
  for (const [k, one] of near.entries()) {
    // Another of nearly the same height is worth finishing only if it is another valley.
    if (k > 0 && (one.value > least + 0.1 || !apart(one.shape, near[0]?.shape ?? one.shape))) {
      continue;
    }
    const found = finish(data, one, limits);
    if (best === null || found.point.value < best.point.value - 1e-9) best = found;
  }
  if (best === null) {
    throw new Refusal(
      'autoregressive model: the criterion is nowhere finite; expected a response that varies ' +
        'beyond the fixed effects',
    );
  }
  return best;
}
