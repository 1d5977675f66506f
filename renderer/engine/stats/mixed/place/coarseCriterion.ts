import { dotRange } from '../linalg';
import type { Shape } from './placeShapes';
import { real } from '../../../entry';

/** A shape with the row of the design at each of its places; below 0: nothing was harvested there. */
export interface PlaceBlock {
  readonly shape: Shape;
  readonly rows: Int32Array;
}

/** Columns of the fixed part, each of length n. */
export type FixedPart = readonly Float64Array[];

/** A pivot below this share of its column repeats earlier columns. */
const REPEATED = 1e-9;

/** What of the criterion at one point rests on places, losses and the fixed part alone. */
interface AtPoint {
  readonly blocks: readonly {
    readonly w: Float64Array;
    /** W of the lost places with all, one row a place, and the factor of W among them. */
    readonly lost: Float64Array;
    readonly factor: Factor;
  }[];
  /** W̃ times each column of the fixed part. */
  readonly along: readonly Float64Array[];
  readonly factor: Factor;
  readonly logDet: number;
  readonly rank: number;
}

/**
 * −2 log L of REML at points of a grid of variance parameters, profiled over σ², but for a constant.
 * Places where nothing was harvested have an indicator column each in the fixed part, which leaves
 * the criterion as it is: with places m of W = V⁻¹ less its trends, W̃ = W − W_·m W_mm⁻¹ W_m·, whatever
 * stands for the responses there. So W of a whole shape serves all harvests, and a point costs a
 * product of W with each column.
 */
export function coarseCriterion(
  blocks: readonly PlaceBlock[],
  x: FixedPart,
): (point: Int32Array, y: Float64Array) => number {
  const points = new Map<string, AtPoint>();
  const gaps = blocks.map(({ rows }) => {
    const lost: number[] = [];
    rows.forEach((row, place) => {
      if (row < 0) lost.push(place);
    });
    return lost;
  });
  const local = blocks.map(({ rows }) => new Float64Array(rows.length));
  const at = (point: Int32Array): AtPoint => {
    const key = point.join(' ');
    const found = points.get(key);
    if (found) return found;
    const made = atPoint(blocks, gaps, x, point);
    points.set(key, made);
    return made;
  };
  return (point, y) => {
    const { blocks: own, along, factor, logDet, rank } = at(point);
    let rest = 0;
    blocks.forEach(({ rows }, k) => {
      const block = own[k];
      const values = local[k];
      if (!block || !values) return;
      const size = rows.length;
      gather(rows, y, values);
      for (let a = 0; a < size; a++) {
        rest += real(values, a) * dotRange(block.w, a * size, values, 0, size);
      }
      const there = Float64Array.from({ length: block.factor.size }, (_, c) =>
        dotRange(block.lost, c * size, values, 0, size),
      );
      rest -= lengthBy(block.factor, there);
    });
    const fixed = Float64Array.from(along, (column) => dotRange(column, 0, y, 0, y.length));
    rest -= lengthBy(factor, fixed);
    return (y.length - rank) * Math.log(rest) + logDet;
  };
}

function atPoint(
  blocks: readonly PlaceBlock[],
  gaps: readonly (readonly number[])[],
  x: FixedPart,
  point: Int32Array,
): AtPoint {
  const n = x[0]?.length ?? 0;
  const along = x.map(() => new Float64Array(n));
  let logDet = 0;
  let rank = 0;
  const own = blocks.map(({ shape, rows }, k) => {
    const { w, logDet: whole, rank: trends } = shape.cleaned(point);
    const places = gaps[k] ?? [];
    const size = rows.length;
    const m = places.length;
    const lost = new Float64Array(m * size);
    const among = new Float64Array(m * m);
    places.forEach((place, c) => {
      lost.set(w.subarray(place * size, (place + 1) * size), c * size);
      places.forEach((other, d) => (among[c * m + d] = real(w, place * size + other)));
    });
    const factor = factorOf(among, m);
    logDet += whole + factor.logDet;
    // A place that is lost gives no row and takes one column: only what it leaves of the trends counts.
    rank += trends + factor.rank - m;
    const values = new Float64Array(size);
    x.forEach((column, j) => {
      gather(rows, column, values);
      if (values.every((value) => value === 0)) return;
      const there = Float64Array.from({ length: m }, (_, c) =>
        dotRange(lost, c * size, values, 0, size),
      );
      const back = solveBy(factor, there);
      const to = along[j] ?? values;
      for (let a = 0; a < size; a++) {
        const row = rows[a] ?? -1;
        if (row < 0) continue;
        let sum = dotRange(w, a * size, values, 0, size);
        for (let c = 0; c < m; c++) sum -= real(lost, c * size + a) * real(back, c);
        to[row] = sum;
      }
    });
    return { w, lost, factor };
  });
  const gram = new Float64Array(x.length * x.length);
  x.forEach((column, i) => {
    along.forEach((other, j) => (gram[i * x.length + j] = dotRange(column, 0, other, 0, n)));
  });
  const factor = factorOf(gram, x.length);
  return {
    blocks: own,
    along,
    factor,
    logDet: logDet + factor.logDet,
    rank: rank + factor.rank,
  };
}

/** Values of the rows of a block, 0 where there is none. */
function gather(rows: Int32Array, values: Float64Array, to: Float64Array): void {
  for (let a = 0; a < rows.length; a++) {
    const row = rows[a] ?? -1;
    to[a] = row < 0 ? 0 : real(values, row);
  }
}

/** Lower Cholesky factor of a symmetric matrix; a column that repeats earlier ones is passed over. */
interface Factor {
  readonly size: number;
  readonly lower: Float64Array;
  readonly rank: number;
  readonly logDet: number;
}

function factorOf(a: Float64Array, size: number): Factor {
  const lower = new Float64Array(size * size);
  let rank = 0;
  let logDet = 0;
  for (let k = 0; k < size; k++) {
    const from = k * size;
    const whole = real(a, from + k);
    const pivot = whole - dotRange(lower, from, lower, from, k);
    // What is passed over keeps a column of zeros.
    if (!(pivot > REPEATED * whole)) continue;
    rank++;
    logDet += Math.log(pivot);
    const root = Math.sqrt(pivot);
    lower[from + k] = root;
    for (let i = k + 1; i < size; i++) {
      const value = real(a, i * size + k) - dotRange(lower, i * size, lower, from, k);
      lower[i * size + k] = value / root;
    }
  }
  return { size, lower, rank, logDet };
}

/** L⁻¹b, 0 where a column was passed over. */
function forward({ size, lower }: Factor, b: Float64Array): Float64Array {
  const z = new Float64Array(size);
  for (let k = 0; k < size; k++) {
    const root = real(lower, k * size + k);
    if (root > 0) z[k] = (real(b, k) - dotRange(lower, k * size, z, 0, k)) / root;
  }
  return z;
}

/** bᵀA⁻b */
function lengthBy(factor: Factor, b: Float64Array): number {
  if (factor.size === 0) return 0;
  const z = forward(factor, b);
  return dotRange(z, 0, z, 0, factor.size);
}

/** A⁻b */
function solveBy(factor: Factor, b: Float64Array): Float64Array {
  const { size, lower } = factor;
  const z = forward(factor, b);
  for (let k = size - 1; k >= 0; k--) {
    const root = real(lower, k * size + k);
    if (!(root > 0)) continue;
    let sum = real(z, k);
    for (let i = k + 1; i < size; i++) sum -= real(lower, i * size + k) * real(z, i);
    z[k] = sum / root;
  }
  return z;
}
