import { choleskyOfBlocks, type KnownCovariance } from './covariance';
import { fromColumns } from '../linear';
import {
  choleskyInPlace,
  inverseFromCholesky,
  logDeterminant,
  solveLowerRows,
} from '../mixed/cholesky';
import { localBasis } from '../mixed/localBasis';
import { orthogonalDesign } from '../mixed/orthogonal';
import { add, entry, num, real, whole } from '../../entry';

/** V of rows that vary together: its inverse, log|V|, and fixed trends over those rows. */
export interface VarianceBlock {
  readonly inverse: Float64Array;
  readonly logDet: number;
  readonly trends: readonly Float64Array[];
}

/** V⁻¹ of the rows of one block, its trends taken out, and what that adds to −2 log L. */
export interface Cleaned {
  readonly rows: Int32Array;
  readonly w: Float64Array;
  readonly logDet: number;
  readonly rank: number;
}

/** V by blocks and the fixed part, which no response changes. */
export interface Parted {
  readonly blocks: readonly Cleaned[];
  /** W-orthonormal columns of the fixed part, and W times each. */
  readonly basis: readonly { readonly column: Float64Array; readonly along: Float64Array }[];
}

/** A pivot below this share of its column repeats earlier columns. */
const REPEATED = 1e-9;

/**
 * V of known covariance by the blocks of rows that vary together. Fixed columns within one block are
 * taken out of it as its trends are. Throws where V is singular.
 */
export function partedBy(
  covariance: KnownCovariance,
  n: number,
  x: readonly Float64Array[],
): Parted {
  const { blocks } = covariance;
  const sets = blocks.map(({ rows }) => rows);
  const design = fromColumns(x, n);
  const { inside, across } = localBasis(design, orthogonalDesign(design), sets);
  const factorOf = choleskyOfBlocks();
  const known: Alike[] = [];
  const cleaned = blocks.map(({ rows, v, trends }, b): Cleaned => {
    const own = [...entry(inside, b), ...trends];
    const alike = known.find((one) => one.v === v && isSame(one.trends, own));
    if (alike) return { ...alike.cleaned, rows };
    const size = rows.length;
    const factor = factorOf({ rows, v });
    const block = {
      inverse: inverseFromCholesky(factor, size),
      logDet: logDeterminant(factor, size),
      trends: own,
    };
    const made = cleanBlock(block, rows);
    known.push({ v, trends: own, cleaned: made });
    return made;
  });
  return { blocks: cleaned, basis: orthogonalised(cleaned, across) };
}

/** A block that is cleaned already, which others like it share. */
interface Alike {
  readonly v: Float64Array;
  readonly trends: readonly Float64Array[];
  readonly cleaned: Cleaned;
}

function isSame(one: readonly Float64Array[], other: readonly Float64Array[]): boolean {
  return (
    one.length === other.length &&
    one.every((column, k) => column.every((value, i) => value === other[k]?.[i]))
  );
}

/**
 * The block that is left where only some of its places have a row (below 0: lost). With places m lost of
 * W = V⁻¹, the inverse of what is left is W_oo − W_om W_mm⁻¹ W_mo, and its determinant |V| |W_mm|.
 */
export function cleanBlock({ inverse, logDet, trends }: VarianceBlock, rows: Int32Array): Cleaned {
  const size = rows.length;
  const here: number[] = [];
  const lost: number[] = [];
  rows.forEach((row, i) => (row >= 0 ? here : lost).push(i));
  const k = here.length;
  const w = new Float64Array(k * k);
  for (let a = 0; a < k; a++) {
    const from = num(here, a) * size;
    for (let b = 0; b < k; b++) w[a * k + b] = real(inverse, from + num(here, b));
  }
  let own = logDet + takeOut(w, here, lost, inverse, size);
  let rank = 0;
  for (const trend of trends) {
    const t = Float64Array.from(here, (i) => real(trend, i));
    const along = times(w, t);
    const { length, whole } = lengths(t, along, inverse, here, size);
    if (!(length > REPEATED * whole)) continue;
    rank++;
    own += Math.log(length);
    for (let a = 0; a < k; a++) {
      const share = real(along, a) / length;
      for (let b = 0; b < k; b++) add(w, a * k + b, -share * real(along, b));
    }
  }
  return { rows: Int32Array.from(here, (i) => whole(rows, i)), w, logDet: own, rank };
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
      among[c * m + d] = real(inverse, num(lost, c) * size + num(lost, d));
    }
  }
  choleskyInPlace(among, m);
  // Rows of W_om L⁻ᵀ: W_om W_mm⁻¹ W_mo is their products.
  const half = new Float64Array(k * m);
  for (let a = 0; a < k; a++) {
    for (let c = 0; c < m; c++) half[a * m + c] = real(inverse, num(here, a) * size + num(lost, c));
  }
  solveLowerRows(among, m, half, k);
  for (let a = 0; a < k; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = 0;
      for (let c = 0; c < m; c++) sum += real(half, a * m + c) * real(half, b * m + c);
      const value = real(w, a * k + b) - sum;
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
    length += real(t, a) * real(along, a);
    whole += real(t, a) ** 2 * real(inverse, i * size + i);
  });
  return { length, whole };
}

function times(w: Float64Array, t: Float64Array): Float64Array {
  const k = t.length;
  const out = new Float64Array(k);
  for (let a = 0; a < k; a++) {
    let sum = 0;
    for (let b = 0; b < k; b++) sum += real(w, a * k + b) * real(t, b);
    out[a] = sum;
  }
  return out;
}

/** W times a column over all rows. */
export function timesAll(blocks: readonly Cleaned[], values: Float64Array): Float64Array {
  const out = new Float64Array(values.length);
  for (const { rows, w } of blocks) {
    const k = rows.length;
    for (let a = 0; a < k; a++) {
      let sum = 0;
      for (let b = 0; b < k; b++) sum += real(w, a * k + b) * real(values, whole(rows, b));
      out[whole(rows, a)] = sum;
    }
  }
  return out;
}

export function inner(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += real(a, i) * real(b, i);
  return sum;
}

/** W-orthonormal columns of the fixed part, and W times each. */
export function orthogonalised(
  blocks: readonly Cleaned[],
  x: readonly Float64Array[],
): Parted['basis'] {
  const basis: { column: Float64Array; along: Float64Array }[] = [];
  for (const one of x) {
    const column = one.slice();
    const whole = inner(one, timesAll(blocks, one));
    for (const { column: before, along } of basis) {
      const share = inner(along, column);
      for (let i = 0; i < column.length; i++) add(column, i, -share * real(before, i));
    }
    const along = timesAll(blocks, column);
    const length = inner(column, along);
    if (!(length > REPEATED * whole)) continue;
    const scale = 1 / Math.sqrt(length);
    basis.push({ column: column.map((v) => v * scale), along: along.map((v) => v * scale) });
  }
  return basis;
}

/** P = V⁻¹ − V⁻¹X(XᵀV⁻¹X)⁻XᵀV⁻¹ as the blocks, over some rows each, less Σ b bᵀ. */
export interface BlockProjection {
  readonly blocks: readonly { readonly rows: Int32Array; readonly w: Float64Array }[];
  readonly basis: readonly Float64Array[];
  /** P y of the response. */
  readonly py: Float64Array;
  /** Of the columns that are taken out. */
  readonly rank: number;
  /** P times a column. */
  times(values: Float64Array): Float64Array;
}

export function projectionOf({ blocks, basis }: Parted, y: Float64Array): BlockProjection {
  const times = (values: Float64Array): Float64Array => {
    const product = timesAll(blocks, values);
    for (const { along } of basis) {
      const share = inner(along, values);
      for (let i = 0; i < product.length; i++) {
        add(product, i, -share * real(along, i));
      }
    }
    return product;
  };
  const rank = blocks.reduce((sum, one) => sum + one.rank, basis.length);
  return { blocks, basis: basis.map(({ along }) => along), py: times(y), rank, times };
}
