import { add, real } from '../../entry';

/** A pivot smaller than this share of its column repeats earlier columns. */
const REPEATED = 1e-9;

/** The treatments' columns of one layout in the metric of a known covariance, for any response. */
export interface CellSolution {
  /** Which of the columns could be estimated, and how many they are. */
  readonly kept: Uint8Array;
  readonly rank: number;
  /** d²: the swept cross products; over the columns kept, their inverse. */
  readonly inverse: Float64Array;
  /** Residual df. */
  readonly df: number;
  /** What joint tests of contrasts need, by the list of their rows; null: not estimable. */
  readonly joint: Map<readonly Float64Array[], Joint | null>;
}

/** (LCLᵀ)⁻ of contrasts L, and its rank. */
interface Joint {
  readonly inverse: Float64Array;
  readonly rank: number;
}

/** Least squares in that metric. */
export interface CellFit {
  readonly solution: CellSolution;
  readonly coefficients: Float64Array;
  /** Generalised residual mean square. */
  readonly ms: number;
}

/**
 * Sweeps a symmetric matrix by its lower half, row major (Goodnight 1979, The American Statistician 33, 149–158): leaves
 * the inverse over the columns that it says were swept; the others repeat earlier ones, and in their
 * places the rows of swept columns have what they are made of.
 */
export function sweepAll(a: Float64Array, d: number): Uint8Array {
  const kept = new Uint8Array(d);
  const scale = new Float64Array(d);
  const column = new Float64Array(d);
  for (let k = 0; k < d; k++) scale[k] = real(a, k * d + k);
  // With the sign of what was swept turned the matrix stays symmetric: half of it is enough.
  for (let k = 0; k < d; k++) {
    const pivot = real(a, k * d + k);
    if (!(pivot > REPEATED * real(scale, k))) continue;
    kept[k] = 1;
    for (let i = 0; i < k; i++) column[i] = real(a, k * d + i);
    for (let i = k + 1; i < d; i++) column[i] = real(a, i * d + k);
    column[k] = 0;
    for (let i = 0; i < d; i++) {
      const factor = real(column, i) / pivot;
      if (factor === 0) continue;
      const to = i * d;
      for (let j = 0; j <= i; j++) add(a, to + j, -factor * real(column, j));
    }
    for (let i = 0; i < k; i++) a[k * d + i] = real(column, i) / pivot;
    for (let i = k + 1; i < d; i++) a[i * d + k] = real(column, i) / pivot;
    a[k * d + k] = -1 / pivot;
  }
  for (let i = 0; i < d; i++) {
    for (let j = 0; j <= i; j++) {
      const value = real(a, i * d + j);
      const turned = kept[i] === 1 && kept[j] === 1 ? -value : value;
      a[i * d + j] = turned;
      a[j * d + i] = turned;
    }
  }
  return kept;
}

/** How many columns were swept. */
export function rankOfSwept(kept: Uint8Array): number {
  let rank = 0;
  for (const one of kept) rank += one;
  return rank;
}

/** A combination of the treatments' coefficients and its standard error; null: not estimable. */
export function combine(
  { solution, coefficients, ms }: CellFit,
  weights: Float64Array,
): { estimate: number; se: number } | null {
  if (!isEstimable(solution, weights)) return null;
  const { kept, inverse } = solution;
  const d = kept.length;
  let estimate = 0;
  let variance = 0;
  for (let i = 0; i < d; i++) {
    const w = real(weights, i);
    if (w === 0 || kept[i] === 0) continue;
    estimate += w * real(coefficients, i);
    for (let j = 0; j < d; j++) {
      if (kept[j] === 1) variance += w * real(weights, j) * real(inverse, i * d + j);
    }
  }
  return { estimate, se: Math.sqrt(variance * ms) };
}

/** A repeated column must weigh what the columns that it repeats imply. */
function isEstimable({ kept, rank, inverse }: CellSolution, weights: Float64Array): boolean {
  const d = kept.length;
  if (rank === d) return true;
  let largest = 0;
  for (let i = 0; i < d; i++) largest = Math.max(largest, Math.abs(real(weights, i)));
  for (let i = 0; i < d; i++) {
    if (kept[i] === 1) continue;
    let implied = 0;
    for (let k = 0; k < d; k++) {
      if (kept[k] === 1) implied += real(weights, k) * real(inverse, k * d + i);
    }
    if (Math.abs(implied - real(weights, i)) > 1e-6 * largest) return false;
  }
  return true;
}

/** F of the contrasts in rows of `weights`; Infinity where a layout cannot estimate one of them. */
export function jointF(
  { solution, coefficients, ms }: CellFit,
  rows: readonly Float64Array[],
): number {
  const known = solution.joint.get(rows);
  const joint = known === undefined ? jointOf(solution, rows) : known;
  solution.joint.set(rows, joint);
  if (joint === null) return Infinity;
  if (joint.rank === 0) return 0;
  const q = rows.length;
  const estimates = new Float64Array(q);
  for (let r = 0; r < q; r++) {
    const row = rows[r] ?? estimates;
    let sum = 0;
    for (let i = 0; i < coefficients.length; i++) sum += real(row, i) * real(coefficients, i);
    estimates[r] = sum;
  }
  let explained = 0;
  for (let r = 0; r < q; r++) {
    let sum = 0;
    for (let s = 0; s < q; s++) sum += real(joint.inverse, r * q + s) * real(estimates, s);
    explained += real(estimates, r) * sum;
  }
  return ms > 0 ? explained / joint.rank / ms : Infinity;
}

function jointOf(solution: CellSolution, rows: readonly Float64Array[]): Joint | null {
  if (!rows.every((row) => isEstimable(solution, row))) return null;
  const { kept, inverse } = solution;
  const d = kept.length;
  const q = rows.length;
  const a = new Float64Array(q * q);
  const along = new Float64Array(d);
  rows.forEach((row, r) => {
    along.fill(0);
    for (let i = 0; i < d; i++) {
      const w = real(row, i);
      if (w === 0 || kept[i] === 0) continue;
      for (let j = 0; j < d; j++) {
        if (kept[j] === 1) add(along, j, w * real(inverse, i * d + j));
      }
    }
    for (let s = 0; s <= r; s++) {
      const other = rows[s] ?? along;
      let sum = 0;
      for (let j = 0; j < d; j++) sum += real(other, j) * real(along, j);
      a[r * q + s] = sum;
      a[s * q + r] = sum;
    }
  });
  const swept = sweepAll(a, q);
  for (let r = 0; r < q; r++) {
    for (let s = 0; s < q; s++) if (swept[r] === 0 || swept[s] === 0) a[r * q + s] = 0;
  }
  return { inverse: a, rank: rankOfSwept(swept) };
}
