import { add, entry, real } from '../../entry';

/** A pivot smaller than this share of its column repeats earlier columns. */
const REPEATED = 1e-9;
/** A combination may differ from what repeated columns imply by so much of its largest weight. */
const IMPLIED = 1e-6;

/** The treatments' columns of one layout in the metric of a known covariance, for any response. */
export interface CellSolution {
  /** Which of the columns could be estimated, and how many they are. */
  readonly kept: Uint8Array;
  readonly rank: number;
  /** d²: Cholesky factor L of the cross products; nothing in the places of columns not kept. */
  readonly lower: Float64Array;
  /** Residual df. */
  readonly df: number;
  /** What joint tests of contrasts need, by the list of their rows; null: not estimable. */
  readonly joint: Map<readonly Float64Array[], readonly Float64Array[] | null>;
}

/** Least squares in that metric. */
export interface CellFit {
  readonly solution: CellSolution;
  /** L⁻¹ times the response along the columns: the estimates in coordinates without correlation. */
  readonly along: Float64Array;
  /** Generalised residual mean square. */
  readonly ms: number;
}

/**
 * Replaces the lower half of a symmetric d × d matrix, row major, by its Cholesky factor. A column that
 * repeats earlier ones is passed over; its row says what it is made of. Which columns were kept.
 */
export function factorInPlace(a: Float64Array, d: number): Uint8Array {
  const kept = new Uint8Array(d);
  for (let k = 0; k < d; k++) {
    const own = k * d;
    const whole = real(a, own + k);
    let pivot = whole;
    for (let c = 0; c < k; c++) pivot -= real(a, own + c) ** 2;
    const root = pivot > REPEATED * whole ? Math.sqrt(pivot) : 0;
    a[own + k] = root;
    if (root > 0) kept[k] = 1;
    for (let i = k + 1; i < d; i++) {
      const other = i * d;
      let value = real(a, other + k);
      if (root > 0) for (let c = 0; c < k; c++) value -= real(a, other + c) * real(a, own + c);
      a[other + k] = root > 0 ? value / root : 0;
    }
  }
  return kept;
}

/** L⁻¹b in place of b, over the columns that were kept. */
export function forward(
  { kept, lower }: Pick<CellSolution, 'kept' | 'lower'>,
  b: Float64Array,
): Float64Array {
  const d = kept.length;
  for (let k = 0; k < d; k++) {
    let value = real(b, k);
    const own = k * d;
    if (kept[k] === 1) {
      for (let c = 0; c < k; c++) value -= real(lower, own + c) * real(b, c);
      b[k] = value / real(lower, own + k);
    } else b[k] = 0;
  }
  return b;
}

/** L⁻ᵀb in place of b: from coordinates to coefficients, 0 for columns that were not kept. */
export function backward(
  { kept, lower }: Pick<CellSolution, 'kept' | 'lower'>,
  b: Float64Array,
): Float64Array {
  const d = kept.length;
  for (let k = d - 1; k >= 0; k--) {
    if (kept[k] === 0) continue;
    const value = real(b, k) / real(lower, k * d + k);
    b[k] = value;
    for (let c = 0; c < k; c++) add(b, c, -value * real(lower, k * d + c));
  }
  return b;
}

/** L⁻¹ of a combination's weights; null where it cannot be estimated. */
function coordinates(solution: CellSolution, weights: Float64Array): Float64Array | null {
  const found = forward(solution, weights.slice());
  const { kept, rank, lower } = solution;
  const d = kept.length;
  if (rank === d) return found;
  let largest = 0;
  for (let i = 0; i < d; i++) largest = Math.max(largest, Math.abs(real(weights, i)));
  for (let i = 0; i < d; i++) {
    if (kept[i] === 1) continue;
    // A repeated column must weigh what the columns that it repeats imply.
    let implied = 0;
    for (let c = 0; c < i; c++) implied += real(lower, i * d + c) * real(found, c);
    if (Math.abs(implied - real(weights, i)) > IMPLIED * largest) return null;
  }
  return found;
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += real(a, i) * real(b, i);
  return sum;
}

/** A combination of the treatments' coefficients and its standard error; null: not estimable. */
export function combine(
  { solution, along, ms }: CellFit,
  weights: Float64Array,
): { estimate: number; se: number } | null {
  const found = coordinates(solution, weights);
  if (found === null) return null;
  return { estimate: product(found, along), se: Math.sqrt(product(found, found) * ms) };
}

/** F of the contrasts in rows of `weights`; Infinity where a layout cannot estimate one of them. */
export function jointF({ solution, along, ms }: CellFit, rows: readonly Float64Array[]): number {
  const basis = jointBasis(solution, rows);
  if (basis === null) return Infinity;
  if (basis.length === 0) return 0;
  let explained = 0;
  for (let r = 0; r < basis.length; r++) explained += product(entry(basis, r), along) ** 2;
  return ms > 0 ? explained / basis.length / ms : Infinity;
}

/**
 * Coefficients of the treatments by least squares under the condition that some contrasts of them
 * are zero; rows that cannot be estimated hold nothing.
 */
export function constrained(
  { solution, along }: CellFit,
  rows: readonly Float64Array[],
): Float64Array {
  const left = along.slice();
  const held = rows.map((row) => coordinates(solution, row)).filter((one) => one !== null);
  for (const direction of orthonormal(held)) {
    const share = product(direction, left);
    for (let i = 0; i < left.length; i++) add(left, i, -share * real(direction, i));
  }
  return backward(solution, left);
}

function jointBasis(
  solution: CellSolution,
  rows: readonly Float64Array[],
): readonly Float64Array[] | null {
  const known = solution.joint.get(rows);
  if (known !== undefined) return known;
  const own = rows.map((row) => coordinates(solution, row)).filter((one) => one !== null);
  const made = own.length === rows.length ? orthonormal(own) : null;
  solution.joint.set(rows, made);
  return made;
}

/** Orthonormal directions of some contrasts, in place of their coordinates. */
function orthonormal(rows: readonly Float64Array[]): Float64Array[] {
  const basis: Float64Array[] = [];
  for (const own of rows) {
    const whole = product(own, own);
    for (const before of basis) {
      const share = product(before, own);
      for (let i = 0; i < own.length; i++) add(own, i, -share * real(before, i));
    }
    const length = product(own, own);
    if (!(length > REPEATED * whole)) continue;
    const scale = 1 / Math.sqrt(length);
    for (let i = 0; i < own.length; i++) own[i] = real(own, i) * scale;
    basis.push(own);
  }
  return basis;
}
