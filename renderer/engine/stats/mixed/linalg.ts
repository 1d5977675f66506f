import { real } from '../../entry';
/**
 * Dense products on typed arrays for the mixed models. Everything is row major, and every
 * inner loop is a dot product of two contiguous rows: several right-hand sides are therefore
 * held as rows, not as columns.
 */

/** Dot product of `count` entries of a from `ao` and b from `bo`. */
export function dotRange(
  a: Float64Array,
  ao: number,
  b: Float64Array,
  bo: number,
  count: number,
): number {
  // Four running sums hide the latency of the addition.
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  const even = count - (count & 3);
  let i = 0;
  for (; i < even; i += 4) {
    s0 += real(a, ao + i) * real(b, bo + i);
    s1 += real(a, ao + i + 1) * real(b, bo + i + 1);
    s2 += real(a, ao + i + 2) * real(b, bo + i + 2);
    s3 += real(a, ao + i + 3) * real(b, bo + i + 3);
  }
  for (; i < count; i++) s0 += real(a, ao + i) * real(b, bo + i);
  return s0 + s1 + (s2 + s3);
}

/** target[to…] += factor × source[so…]. */
export function addScaled(
  target: Float64Array,
  to: number,
  factor: number,
  source: Float64Array,
  so: number,
  count: number,
): void {
  for (let i = 0; i < count; i++) {
    target[to + i] = real(target, to + i) + factor * real(source, so + i);
  }
}

/** a (m × k) times bᵀ (n × k, held by rows): m × n, two rows of each at a time. */
export function timesTransposed(
  a: Float64Array,
  m: number,
  b: Float64Array,
  n: number,
  k: number,
): Float64Array {
  const product = new Float64Array(m * n);
  const evenM = m - (m & 1);
  const evenN = n - (n & 1);
  for (let i = 0; i < evenM; i += 2) {
    const a0 = i * k;
    const a1 = a0 + k;
    for (let j = 0; j < evenN; j += 2) {
      const b0 = j * k;
      const b1 = b0 + k;
      let s00 = 0;
      let s01 = 0;
      let s10 = 0;
      let s11 = 0;
      for (let c = 0; c < k; c++) {
        const p0 = real(a, a0 + c);
        const p1 = real(a, a1 + c);
        const q0 = real(b, b0 + c);
        const q1 = real(b, b1 + c);
        s00 += p0 * q0;
        s01 += p0 * q1;
        s10 += p1 * q0;
        s11 += p1 * q1;
      }
      product[i * n + j] = s00;
      product[i * n + j + 1] = s01;
      product[(i + 1) * n + j] = s10;
      product[(i + 1) * n + j + 1] = s11;
    }
    if (evenN < n) {
      product[i * n + evenN] = dotRange(a, a0, b, evenN * k, k);
      product[(i + 1) * n + evenN] = dotRange(a, a1, b, evenN * k, k);
    }
  }
  if (evenM < m) {
    for (let j = 0; j < n; j++) product[evenM * n + j] = dotRange(a, evenM * k, b, j * k, k);
  }
  return product;
}

/** a (m × k) times aᵀ: symmetric m × m. */
export function selfProduct(a: Float64Array, m: number, k: number): Float64Array {
  const product = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      const value = dotRange(a, i * k, a, j * k, k);
      product[i * m + j] = value;
      product[j * m + i] = value;
    }
  }
  return product;
}

export function transposed(a: Float64Array, rows: number, columns: number): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) out[j * rows + i] = real(a, i * columns + j);
  }
  return out;
}

/** vᵀ A v of a symmetric n × n matrix. */
export function quadratic(v: Float64Array, matrix: Float64Array): number {
  const n = v.length;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += real(v, i) * dotRange(matrix, i * n, v, 0, n);
  return sum;
}
