import { ar1Curvature, freeInverse, type Ar1Curvature } from './ar1-curvature';
import { ar1Point, type Ar1Data, type Ar1Point, type Ar1Shape } from './ar1-point';

/** Neighbours more alike than this are one and the same for arithmetic. */
const CLOSEST = 1 - 1e-6;
const MOST_STEPS = 60;

export interface Ar1Limits {
  /** Whether there are different rows (columns) at all, and whether ρ < 0 makes sense. */
  row: { free: boolean; least: number };
  column: { free: boolean; least: number };
  nugget: boolean;
}

export interface Ar1Optimum {
  point: Ar1Point;
  /** Positions in PARAMETERS that are not held at an edge. */
  free: number[];
  settled: boolean;
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

/** A step in (spatial, row, column, nugget) from a point, kept within the limits. */
function moved(from: Ar1Point, step: Float64Array, share: number, limits: Ar1Limits): Ar1Shape {
  const s = from.total * (1 - from.shape.nuggetShare);
  const g = from.total * from.shape.nuggetShare;
  const spatial = Math.max(s / 10, s + share * (step[0] ?? 0));
  const nugget = Math.max(0, g + share * (step[3] ?? 0));
  return {
    rowCorrelation: clamp(
      from.shape.rowCorrelation + share * (step[1] ?? 0),
      limits.row.least,
      CLOSEST,
    ),
    columnCorrelation: clamp(
      from.shape.columnCorrelation + share * (step[2] ?? 0),
      limits.column.least,
      CLOSEST,
    ),
    nuggetShare: nugget / (spatial + nugget),
  };
}

/** Parameters that may move: not fixed, and not pressed against an edge by the gradient. */
function freeParameters(point: Ar1Point, gradient: Float64Array, limits: Ar1Limits): number[] {
  const { rowCorrelation, columnCorrelation, nuggetShare } = point.shape;
  const open = (at: number, value: number, least: number, most: number): boolean => {
    const slope = gradient[at] ?? 0;
    return !(value <= least && slope >= 0) && !(value >= most && slope <= 0);
  };
  const free = [0];
  if (limits.row.free && open(1, rowCorrelation, limits.row.least, CLOSEST)) free.push(1);
  if (limits.column.free && open(2, columnCorrelation, limits.column.least, CLOSEST)) free.push(2);
  if (limits.nugget && open(3, nuggetShare, 0, 1)) free.push(3);
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
      step[k] = (step[k] ?? 0) - (inverse[i * free.length + j] ?? 0) * (gradient[l] ?? 0);
    });
    decrement -= (step[k] ?? 0) * (gradient[k] ?? 0);
  });
  return { step, decrement };
}

/** Average-information steps to the neighbourhood of the optimum, then Newton steps proper. */
function refine(data: Ar1Data, start: Ar1Point, limits: Ar1Limits): Ar1Optimum {
  let point = start;
  let exact = false;
  let free: number[] = [];
  for (let count = 0; count < MOST_STEPS; count++) {
    const curvature: Ar1Curvature = ar1Curvature(data, point, exact);
    free = freeParameters(point, curvature.gradient, limits);
    const towards =
      (exact && curvature.observed !== null
        ? newton(curvature.observed, curvature.gradient, free)
        : null) ?? newton(curvature.average, curvature.gradient, free);
    if (towards === null) return { point, free, settled: false };
    const { step, decrement } = towards;
    const nearly = decrement < 1e-9;
    let next = point;
    for (let share = 1; share > 1e-9; share /= 2) {
      const tried = ar1Point(data, moved(point, step, share, limits));
      if (tried.value <= point.value + (nearly ? 1e-9 : -1e-4 * share * decrement)) {
        next = tried;
        break;
      }
      // A step cut off by an edge falls short of what it promised; any descent will do.
      if (share < 0.3 && tried.value < point.value) {
        next = tried;
        break;
      }
    }
    if (next === point) return { point, free, settled: decrement < 1e-6 };
    point = next;
    if (nearly && exact) return { point, free, settled: true };
    if (decrement < 1e-2) exact = true;
  }
  return { point, free, settled: false };
}

/** Shape and variances at which the REML criterion is least. */
export function ar1Optimum(data: Ar1Data, limits: Ar1Limits): Ar1Optimum {
  const rows = limits.row.free ? [0.3, 0.85] : [0];
  const columns = limits.column.free ? [0.3, 0.85] : [0];
  const points: Ar1Point[] = [];
  for (const rowCorrelation of rows) {
    for (const columnCorrelation of columns) {
      for (const nuggetShare of limits.nugget ? [0.05, 0.3, 0.7] : [0]) {
        points.push(ar1Point(data, { rowCorrelation, columnCorrelation, nuggetShare }));
      }
    }
  }
  points.sort((a, b) => a.value - b.value);
  const [first, ...others] = points;
  if (first === undefined || !Number.isFinite(first.value)) {
    throw new Error('autoregressive model: the criterion is nowhere finite');
  }
  // The criterion may have two valleys, smooth surface plus nugget and rough surface without;
  // the best start of the other kind is followed too.
  const rough = (one: Ar1Point): boolean => one.shape.nuggetShare < 0.1;
  const other = others.find((one) => rough(one) !== rough(first) && one.value < first.value + 20);
  const best = refine(data, first, limits);
  if (other === undefined) return best;
  const second = refine(data, other, limits);
  return second.point.value < best.point.value - 1e-9 ? second : best;
}
