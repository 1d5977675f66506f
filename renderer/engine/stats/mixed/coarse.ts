import type { KnownCovariance, Projection } from '../randomisation';
import { choleskyInPlace, logDeterminant, solveLowerRows } from './cholesky';
import type { Shape } from './placeShapes';

/** A shape with the row of the design at each of its places; below 0: nothing was harvested there. */
export interface PlaceBlock {
  readonly shape: Shape;
  readonly rows: Int32Array;
}

/** Columns of the fixed part, each of length n. */
export type FixedPart = readonly Float64Array[];

/** V⁻¹ of the harvested places of one block, its trends taken out, and what that adds to −2 log L. */
interface Cleaned {
  readonly rows: Int32Array;
  readonly w: Float64Array;
  readonly logDet: number;
  readonly rank: number;
}

/** All that no response changes at one point of the grid. */
interface Point {
  readonly blocks: readonly Cleaned[];
  /** W-orthonormal columns of the fixed part, and W times each. */
  readonly basis: readonly { readonly column: Float64Array; readonly along: Float64Array }[];
  /** log|XᵀWX| */
  readonly logGram: number;
}

/** A pivot below this share of its column repeats earlier columns. */
const REPEATED = 1e-9;
const MOST_SWEEPS = 6;

/**
 * The point of a grid of variance parameters at which the REML criterion is least, one parameter after
 * another, step by step, until none gains; and what randomisation tests need of V there. V is block diagonal, so that
 * a point costs a few products with the kept inverses: with places m lost of W = V⁻¹, the inverse of
 * what is left is W_oo − W_om W_mm⁻¹ W_mo, and its determinant |V| |W_mm|.
 */
export function coarseSearch(
  blocks: readonly PlaceBlock[],
  x: FixedPart,
  counts: readonly number[],
): (y: Float64Array) => { projection: Projection; covariance: () => KnownCovariance } {
  const points = new Map<string, Point>();
  const pointAt = (point: Int32Array): Point => {
    const key = point.join(' ');
    const found = points.get(key);
    if (found) return found;
    const cleaned = blocks.map((block) => clean(block, point));
    const made = { blocks: cleaned, ...orthogonalised(cleaned, x) };
    points.set(key, made);
    return made;
  };
  const start = Int32Array.from(counts, (count) => Math.floor((count - 1) / 2));
  return (y) => {
    const known = new Map<string, number>();
    const criterion = (point: Int32Array): number => {
      const key = point.join(' ');
      const found = known.get(key) ?? criterionOf(pointAt(point), y);
      known.set(key, found);
      return found;
    };
    let best = start.slice();
    for (let sweep = 0, moved = true; moved && sweep < MOST_SWEEPS; sweep++) {
      moved = false;
      counts.forEach((count, k) => {
        for (const step of [1, -1]) {
          for (;;) {
            const tried = best.slice();
            const level = (tried[k] ?? 0) + step;
            if (level < 0 || level >= count) break;
            tried[k] = level;
            if (!(criterion(tried) < criterion(best) - 1e-9)) break;
            best = tried;
            moved = true;
          }
        }
      });
    }
    const point = best;
    return {
      projection: projectionAt(pointAt(point), y),
      covariance: () => covarianceAt(blocks, point, y.length),
    };
  };
}

function clean({ shape, rows }: PlaceBlock, point: Int32Array): Cleaned {
  const { inverse, logDet } = shape.at(point);
  const { size } = shape;
  const here: number[] = [];
  const lost: number[] = [];
  rows.forEach((row, i) => (row >= 0 ? here : lost).push(i));
  const k = here.length;
  const w = new Float64Array(k * k);
  for (let a = 0; a < k; a++) {
    const from = (here[a] ?? 0) * size;
    for (let b = 0; b < k; b++) w[a * k + b] = inverse[from + (here[b] ?? 0)] ?? 0;
  }
  let own = logDet + takeOut(w, here, lost, inverse, size);
  let rank = 0;
  for (const trend of shape.trends) {
    const t = Float64Array.from(here, (i) => trend[i] ?? 0);
    const along = times(w, t);
    const { length, whole } = lengths(t, along, inverse, here, size);
    if (!(length > REPEATED * whole)) continue;
    rank++;
    own += Math.log(length);
    for (let a = 0; a < k; a++) {
      const share = (along[a] ?? 0) / length;
      for (let b = 0; b < k; b++) w[a * k + b] = (w[a * k + b] ?? 0) - share * (along[b] ?? 0);
    }
  }
  return { rows: Int32Array.from(here, (i) => rows[i] ?? 0), w, logDet: own, rank };
}

/** Makes W of all places that of those that are left; the log of |W_mm| of the lost ones. */
function takeOut(
  w: Float64Array,
  here: readonly number[],
  lost: readonly number[],
  inverse: Float64Array,
  size: number,
): number {
  const m = lost.length;
  const k = here.length;
  if (m === 0) return 0;
  const among = new Float64Array(m * m);
  for (let c = 0; c < m; c++) {
    for (let d = 0; d < m; d++) {
      among[c * m + d] = inverse[(lost[c] ?? 0) * size + (lost[d] ?? 0)] ?? 0;
    }
  }
  choleskyInPlace(among, m);
  // Rows of W_om L⁻ᵀ: W_om W_mm⁻¹ W_mo is their products.
  const half = new Float64Array(k * m);
  for (let a = 0; a < k; a++) {
    for (let c = 0; c < m; c++)
      half[a * m + c] = inverse[(here[a] ?? 0) * size + (lost[c] ?? 0)] ?? 0;
  }
  solveLowerRows(among, m, half, k);
  for (let a = 0; a < k; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = 0;
      for (let c = 0; c < m; c++) sum += (half[a * m + c] ?? 0) * (half[b * m + c] ?? 0);
      const value = (w[a * k + b] ?? 0) - sum;
      w[a * k + b] = value;
      w[b * k + a] = value;
    }
  }
  return logDeterminant(among, m);
}

/** tᵀWt now, and by the diagonal of the whole inverse, to see what is left of it. */
function lengths(
  t: Float64Array,
  along: Float64Array,
  inverse: Float64Array,
  here: readonly number[],
  size: number,
): { length: number; whole: number } {
  let length = 0;
  let whole = 0;
  here.forEach((i, a) => {
    length += (t[a] ?? 0) * (along[a] ?? 0);
    whole += (t[a] ?? 0) ** 2 * (inverse[i * size + i] ?? 0);
  });
  return { length, whole };
}

function times(w: Float64Array, t: Float64Array): Float64Array {
  const k = t.length;
  const out = new Float64Array(k);
  for (let a = 0; a < k; a++) {
    let sum = 0;
    for (let b = 0; b < k; b++) sum += (w[a * k + b] ?? 0) * (t[b] ?? 0);
    out[a] = sum;
  }
  return out;
}

/** W times a column over all rows. */
function timesAll(blocks: readonly Cleaned[], values: Float64Array): Float64Array {
  const out = new Float64Array(values.length);
  for (const { rows, w } of blocks) {
    const k = rows.length;
    for (let a = 0; a < k; a++) {
      let sum = 0;
      for (let b = 0; b < k; b++) sum += (w[a * k + b] ?? 0) * (values[rows[b] ?? 0] ?? 0);
      out[rows[a] ?? 0] = sum;
    }
  }
  return out;
}

function inner(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/** W-orthogonal columns of the fixed part, W times each, and log|XᵀWX|. */
function orthogonalised(
  blocks: readonly Cleaned[],
  x: FixedPart,
): Pick<Point, 'basis' | 'logGram'> {
  const basis: { column: Float64Array; along: Float64Array }[] = [];
  let logGram = 0;
  for (const one of x) {
    const column = one.slice();
    const whole = inner(one, timesAll(blocks, one));
    for (const { column: before, along } of basis) {
      const share = inner(along, column);
      for (let i = 0; i < column.length; i++)
        column[i] = (column[i] ?? 0) - share * (before[i] ?? 0);
    }
    const along = timesAll(blocks, column);
    const length = inner(column, along);
    if (!(length > REPEATED * whole)) continue;
    logGram += Math.log(length);
    const scale = 1 / Math.sqrt(length);
    basis.push({ column: column.map((v) => v * scale), along: along.map((v) => v * scale) });
  }
  return { basis, logGram };
}

/** −2 log L of the profile over σ², but for a constant. */
function criterionOf({ blocks, basis, logGram }: Point, y: Float64Array): number {
  let rest = inner(y, timesAll(blocks, y));
  for (const { along } of basis) rest -= inner(along, y) ** 2;
  const rank = blocks.reduce((sum, one) => sum + one.rank, basis.length);
  const logDet = blocks.reduce((sum, one) => sum + one.logDet, logGram);
  return (y.length - rank) * Math.log(rest) + logDet;
}

function projectionAt({ blocks, basis }: Point, y: Float64Array): Projection {
  const n = y.length;
  const p = new Float64Array(n * n);
  const size = new Float64Array(n);
  for (const { rows, w } of blocks) {
    rows.forEach((i, a) => {
      size[i] = w[a * rows.length + a] ?? 0;
      rows.forEach((j, b) => (p[i * n + j] = w[a * rows.length + b] ?? 0));
    });
  }
  for (const { along } of basis) {
    for (let i = 0; i < n; i++) {
      const share = along[i] ?? 0;
      for (let j = 0; j < n; j++) p[i * n + j] = (p[i * n + j] ?? 0) - share * (along[j] ?? 0);
    }
  }
  const py = timesAll(blocks, y);
  for (const { along } of basis) {
    const share = inner(along, y);
    for (let i = 0; i < n; i++) py[i] = (py[i] ?? 0) - share * (along[i] ?? 0);
  }
  const rank = blocks.reduce((sum, one) => sum + one.rank, basis.length);
  return { p, py, size, rank, blocks, basis: basis.map(({ along }) => along) };
}

function covarianceAt(
  blocks: readonly PlaceBlock[],
  point: Int32Array,
  n: number,
): KnownCovariance {
  const v = new Float64Array(n * n);
  const trends: Float64Array[] = [];
  for (const { shape, rows } of blocks) {
    const own = shape.at(point).v;
    rows.forEach((i, a) => {
      if (i < 0) return;
      rows.forEach((j, b) => {
        if (j >= 0) v[i * n + j] = own[a * shape.size + b] ?? 0;
      });
    });
    for (const trend of shape.trends) {
      const column = new Float64Array(n);
      rows.forEach((i, a) => {
        if (i >= 0) column[i] = trend[a] ?? 0;
      });
      trends.push(column);
    }
  }
  return { v, trends };
}
