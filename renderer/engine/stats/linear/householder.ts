import type { Matrix } from '../model';
import { entry, num, real } from '../../entry';

/**
 * Householder QR of a matrix whose columns keep their order: a column that the ones before it
 * already span is set aside instead of being moved.
 */
export interface Qr {
  readonly rows: number;
  readonly columns: number;
  readonly rank: number;
  /** Columns that carry the rank, in order; and the ones they span. */
  readonly kept: readonly number[];
  readonly aliased: readonly number[];
  /** Replaces `v` (length rows) by Qᵀv; the first `rank` entries belong to the column space. */
  applyQt(v: Float64Array): void;
  /** Replaces `v` by Qv. */
  applyQ(v: Float64Array): void;
  /** z with R z = b, over the kept columns; `b` may be longer, its first `rank` entries count. */
  solveUpper(b: Float64Array): Float64Array;
  /** z with Rᵀz = b. */
  solveLower(b: Float64Array): Float64Array;
  /** Column `aliased[k]` as a combination of the kept ones. */
  aliasCombination(k: number): Float64Array;
  /** Column j in the basis of the column space: Qᵀ times it, `rank` entries. */
  coordinates(j: number): Float64Array;
  /** The unit vector of the column space that kept column number `k` added. */
  direction(k: number): Float64Array;
}

/**
 * A column counts as spanned when what is left of its length is below this share of it. Indicator
 * columns leave 1e-15; a covariate that says anything new leaves far more than 1e-9.
 */
export const SPANNED = 1e-9;

/**
 * Column after column, whatever is zero in them. `lengths`: what each column is measured by, where
 * parts of it were taken out before.
 */
export function householder(x: Matrix, spanned = SPANNED, lengths?: Float64Array): Qr {
  const { reflectors, scales, upper, kept, aliased, aliasTops } = reduce(x, spanned, lengths);
  const n = x.rows;
  const rank = kept.length;
  const combinations: Float64Array[] = [];
  return {
    rows: n,
    columns: x.columns,
    rank,
    kept,
    aliased,
    applyQt(v) {
      for (let k = 0; k < rank; k++) reflect(entry(reflectors, k), num(scales, k), k, v);
    },
    applyQ(v) {
      for (let k = rank - 1; k >= 0; k--) reflect(entry(reflectors, k), num(scales, k), k, v);
    },
    solveUpper: (b) => solveUpper(upper, b, rank),
    solveLower: (b) => solveLower(upper, b),
    aliasCombination(k) {
      const known = combinations[k];
      if (known) return known;
      const top = aliasTops[k] ?? new Float64Array(0);
      const full = new Float64Array(rank);
      full.set(solveUpper(upper, top, top.length));
      combinations[k] = full;
      return full;
    },
    coordinates(j) {
      const full = new Float64Array(rank);
      const k = kept.indexOf(j);
      full.set(k < 0 ? entry(aliasTops, aliased.indexOf(j)) : entry(upper, k));
      return full;
    },
    direction(k) {
      const e = new Float64Array(n);
      e[k] = 1;
      // Reflectors after the k-th begin below its only entry.
      for (let j = k; j >= 0; j--) reflect(entry(reflectors, j), num(scales, j), j, e);
      return e;
    },
  };
}

/** A matrix taken to upper triangular form, column by column. */
interface Reduced {
  /** u of each reflection H = I − s u uᵀ, and its s. */
  readonly reflectors: readonly Float64Array[];
  readonly scales: readonly number[];
  /** Columns of R. */
  readonly upper: readonly Float64Array[];
  readonly kept: readonly number[];
  readonly aliased: readonly number[];
  /** Qᵀ times each aliased column, down to where it ends. */
  readonly aliasTops: readonly Float64Array[];
}

function reduce(x: Matrix, spanned: number, lengths?: Float64Array): Reduced {
  const { rows: n, columns: p } = x;
  const reflectors: Float64Array[] = [];
  const scales: number[] = [];
  const upper: Float64Array[] = [];
  const kept: number[] = [];
  const aliased: number[] = [];
  const aliasTops: Float64Array[] = [];
  for (let j = 0; j < p; j++) {
    const v = new Float64Array(n);
    for (let i = 0; i < n; i++) v[i] = real(x.data, i * p + j);
    const length = lengths ? real(lengths, j) : norm(v, 0);
    for (let k = 0; k < reflectors.length; k++) reflect(entry(reflectors, k), num(scales, k), k, v);
    const r = reflectors.length;
    const left = r < n ? norm(v, r) : 0;
    if (left <= spanned * length) {
      aliased.push(j);
      aliasTops.push(v.slice(0, r));
      continue;
    }
    const head = real(v, r);
    const alpha = head > 0 ? -left : left;
    const top = new Float64Array(r + 1);
    top.set(v.subarray(0, r));
    top[r] = alpha;
    upper.push(top);
    v.fill(0, 0, r);
    v[r] = head - alpha;
    reflectors.push(v);
    // u is the part left after moving its head; s = 2 / uᵀu = 1 / (left (left + |head|)).
    scales.push(1 / (left * (left + Math.abs(head))));
    kept.push(j);
  }
  return { reflectors, scales, upper, kept, aliased, aliasTops };
}

/** z with R z = b, over the first `size` columns of R. */
function solveUpper(upper: readonly Float64Array[], b: Float64Array, size: number): Float64Array {
  const z = b.slice(0, size);
  for (let j = size - 1; j >= 0; j--) {
    const col = entry(upper, j);
    const value = real(z, j) / real(col, j);
    z[j] = value;
    for (let i = 0; i < j; i++) z[i] = real(z, i) - value * real(col, i);
  }
  return z;
}

/** z with Rᵀz = b. */
function solveLower(upper: readonly Float64Array[], b: Float64Array): Float64Array {
  const z = b.slice(0, upper.length);
  for (let j = 0; j < upper.length; j++) {
    const col = entry(upper, j);
    let sum = real(z, j);
    for (let i = 0; i < j; i++) sum -= real(col, i) * real(z, i);
    z[j] = sum / real(col, j);
  }
  return z;
}

/**
 * v ← v − scale (uᵀv) u, with u zero before `from`. The loops here and in `norm` are where a fit
 * spends its time: they stay within `v` by their bounds, and an entry of `u` that is not there makes
 * what follows not a number instead of being taken as nought. Four running sums hide the latency of
 * the addition.
 */
function reflect(u: Float64Array, scale: number, from: number, v: Float64Array): void {
  const n = v.length;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = from;
  for (; i + 3 < n; i += 4) {
    s0 += (u[i] ?? NaN) * (v[i] ?? NaN);
    s1 += (u[i + 1] ?? NaN) * (v[i + 1] ?? NaN);
    s2 += (u[i + 2] ?? NaN) * (v[i + 2] ?? NaN);
    s3 += (u[i + 3] ?? NaN) * (v[i + 3] ?? NaN);
  }
  for (; i < n; i++) s0 += (u[i] ?? NaN) * (v[i] ?? NaN);
  const share = scale * (s0 + s1 + (s2 + s3));
  if (share === 0) return;
  for (i = from; i < n; i++) v[i] = (v[i] ?? NaN) - share * (u[i] ?? NaN);
}

function norm(v: Float64Array, from: number): number {
  let largest = 0;
  for (let i = from; i < v.length; i++) {
    const size = Math.abs(v[i] ?? NaN);
    if (size > largest || Number.isNaN(size)) largest = size;
  }
  if (largest === 0) return 0;
  let sum = 0;
  for (let i = from; i < v.length; i++) {
    const part = (v[i] ?? NaN) / largest;
    sum += part * part;
  }
  return largest * Math.sqrt(sum);
}
