import { addScaled, dotRange } from './linalg';
import { real } from '../../entry';

/** Room for four dot products, which the caller keeps for as long as its loops run. */
const roomForFour = (): Float64Array => new Float64Array(4);

/**
 * Dot products of two stretches of a with two of b, into `four`: a₀b₀, a₀b₁, a₁b₀, a₁b₁. Four products
 * at a time read every entry once for two of them, which is what large matrices spend their time on.
 */
function fourDots(
  four: Float64Array,
  a: Float64Array,
  a0: number,
  a1: number,
  b: Float64Array,
  b0: number,
  b1: number,
  count: number,
): void {
  let s00 = 0;
  let s01 = 0;
  let s10 = 0;
  let s11 = 0;
  let t00 = 0;
  let t01 = 0;
  let t10 = 0;
  let t11 = 0;
  const even = count - (count & 1);
  for (let c = 0; c < even; c += 2) {
    const p0 = real(a, a0 + c);
    const p1 = real(a, a1 + c);
    const q0 = real(b, b0 + c);
    const q1 = real(b, b1 + c);
    s00 += p0 * q0;
    s01 += p0 * q1;
    s10 += p1 * q0;
    s11 += p1 * q1;
    const u0 = real(a, a0 + c + 1);
    const u1 = real(a, a1 + c + 1);
    const v0 = real(b, b0 + c + 1);
    const v1 = real(b, b1 + c + 1);
    t00 += u0 * v0;
    t01 += u0 * v1;
    t10 += u1 * v0;
    t11 += u1 * v1;
  }
  if (even < count) {
    const p0 = real(a, a0 + even);
    const p1 = real(a, a1 + even);
    const q0 = real(b, b0 + even);
    const q1 = real(b, b1 + even);
    s00 += p0 * q0;
    s01 += p0 * q1;
    s10 += p1 * q0;
    s11 += p1 * q1;
  }
  four[0] = s00 + t00;
  four[1] = s01 + t01;
  four[2] = s10 + t10;
  four[3] = s11 + t11;
}

/**
 * Solves Lx = b in place for the two right-hand sides at `r0` and `r1` of `rows`, up to the even
 * number `count` of entries; L has rows of length n.
 */
function solvePair(
  four: Float64Array,
  factor: Float64Array,
  n: number,
  rows: Float64Array,
  r0: number,
  r1: number,
  count: number,
): void {
  for (let k = 0; k < count; k += 2) {
    const first = k * n;
    const second = first + n;
    fourDots(four, rows, r0, r1, factor, first, second, k);
    const below = real(factor, second + k);
    const pivot = factor[first + k] ?? 1;
    const next = factor[second + k + 1] ?? 1;
    const x0 = (real(rows, r0 + k) - real(four, 0)) / pivot;
    const x1 = (real(rows, r1 + k) - real(four, 2)) / pivot;
    rows[r0 + k] = x0;
    rows[r1 + k] = x1;
    rows[r0 + k + 1] = (real(rows, r0 + k + 1) - real(four, 1) - x0 * below) / next;
    rows[r1 + k + 1] = (real(rows, r1 + k + 1) - real(four, 3) - x1 * below) / next;
  }
}

/**
 * Cholesky factor in place: the lower triangle of the symmetric n × n matrix `a` becomes L with
 * LLᵀ = a. False where the matrix is not positive definite (its content is then void).
 */
export function choleskyInPlace(a: Float64Array, n: number): boolean {
  const four = roomForFour();
  for (let i = 0; i < n; i += 2) {
    const row = i * n;
    const pair = i + 1 < n;
    // Each row of L solves the rows above it.
    if (pair) solvePair(four, a, n, a, row, row + n, i);
    else solveOne(a, n, a, row, i);
    for (let k = i; k < Math.min(i + 2, n); k++) {
      const at = k * n;
      if (k > i) a[at + i] = (real(a, at + i) - dotRange(a, at, a, row, i)) / (a[row + i] ?? 1);
      const pivot = real(a, at + k) - dotRange(a, at, a, at, k);
      if (!(pivot > 0)) return false;
      a[at + k] = Math.sqrt(pivot);
    }
  }
  return true;
}

/** log|LLᵀ| of a Cholesky factor. */
export function logDeterminant(factor: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += Math.log(factor[i * n + i] ?? 1);
  return 2 * sum;
}

function solveOne(
  factor: Float64Array,
  n: number,
  rows: Float64Array,
  at: number,
  count: number,
): void {
  for (let k = 0; k < count; k++) {
    const value = real(rows, at + k) - dotRange(factor, k * n, rows, at, k);
    rows[at + k] = value / (factor[k * n + k] ?? 1);
  }
}

/** Solves Lx = b in place for each of `count` right-hand sides, held as rows of length n. */
export function solveLowerRows(
  factor: Float64Array,
  n: number,
  rows: Float64Array,
  count: number,
): void {
  const four = roomForFour();
  const even = n - (n & 1);
  const last = n - 1;
  let r = 0;
  for (; r + 1 < count; r += 2) {
    solvePair(four, factor, n, rows, r * n, (r + 1) * n, even);
    for (let at = r * n; even < n && at <= (r + 1) * n; at += n) {
      const value = real(rows, at + last) - dotRange(factor, last * n, rows, at, last);
      rows[at + last] = value / (factor[last * n + last] ?? 1);
    }
  }
  if (r < count) solveOne(factor, n, rows, r * n, n);
}

/** Solves Lᵀx = b in place for each of `count` right-hand sides, held as rows of length n. */
export function solveUpperRows(
  factor: Float64Array,
  n: number,
  rows: Float64Array,
  count: number,
): void {
  for (let r = 0; r < count; r++) {
    const at = r * n;
    for (let k = n - 1; k >= 0; k--) {
      const value = real(rows, at + k) / (factor[k * n + k] ?? 1);
      rows[at + k] = value;
      addScaled(rows, at, -value, factor, k * n, k);
    }
  }
}

/** Inverse of LLᵀ, full and symmetric. */
export function inverseFromCholesky(factor: Float64Array, n: number): Float64Array {
  // Row i of `columns` is column i of L⁻¹, so that the product L⁻ᵀL⁻¹ is dots of rows again.
  const columns = new Float64Array(n * n);
  const four = roomForFour();
  for (let i = 0; i < n; i += 2) {
    const at = i * n;
    const pivot = factor[at + i] ?? 1;
    columns[at + i] = 1 / pivot;
    if (i + 1 === n) break;
    const next = at + n;
    columns[next + i + 1] = 1 / (factor[next + i + 1] ?? 1);
    columns[at + i + 1] = (-real(factor, next + i) / pivot) * real(columns, next + i + 1);
    for (let k = i + 2; k < n; k += 2) {
      const first = k * n;
      const second = k + 1 < n ? first + n : first;
      fourDots(four, columns, at + i, next + i, factor, first + i, second + i, k - i);
      const down = factor[first + k] ?? 1;
      const x0 = -real(four, 0) / down;
      const x1 = -real(four, 2) / down;
      columns[at + k] = x0;
      columns[next + k] = x1;
      if (second === first) break;
      const below = real(factor, second + k);
      const end = factor[second + k + 1] ?? 1;
      columns[at + k + 1] = -(real(four, 1) + x0 * below) / end;
      columns[next + k + 1] = -(real(four, 3) + x1 * below) / end;
    }
  }
  const inverse = new Float64Array(n * n);
  const keep = (i: number, j: number, value: number): void => {
    inverse[i * n + j] = value;
    inverse[j * n + i] = value;
  };
  for (let i = 0; i < n; i += 2) {
    const at = i * n;
    const last = i + 1 === n;
    for (let j = 0; j <= i; j += 2) {
      const other = j * n;
      if (last) {
        keep(i, j, dotRange(columns, at + i, columns, other + i, n - i));
        if (j < i) keep(i, j + 1, dotRange(columns, at + i, columns, other + n + i, n - i));
        continue;
      }
      // Entries left of the diagonal are zero, so both rows may start at column i.
      fourDots(four, columns, at + i, at + n + i, columns, other + i, other + n + i, n - i);
      keep(i, j, real(four, 0));
      keep(i, j + 1, real(four, 1));
      keep(i + 1, j, real(four, 2));
      keep(i + 1, j + 1, real(four, 3));
    }
  }
  return inverse;
}

/** Inverse of a symmetric positive definite matrix; null where it is not positive definite. */
export function inverseOf(matrix: Float64Array, n: number): Float64Array | null {
  const factor = matrix.slice();
  return choleskyInPlace(factor, n) ? inverseFromCholesky(factor, n) : null;
}

/** Whether a symmetric matrix is positive definite. */
export function isPositive(matrix: Float64Array, n: number): boolean {
  return choleskyInPlace(matrix.slice(), n);
}
