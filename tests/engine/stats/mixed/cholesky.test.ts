import { describe, expect, it } from 'vitest';
import {
  choleskyInPlace,
  inverseOf,
  solveLowerRows,
  solveUpperRows,
} from '../../../../renderer/engine/stats/mixed/cholesky';

/** A symmetric matrix with a heavy diagonal, from sines so that no two entries are alike. */
function matrix(n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      out[i * n + j] = Math.sin((i + 1) * (j + 1)) + (i === j ? n + 1 : 0);
    }
  }
  return out;
}

function times(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      for (let k = 0; k < n; k++) {
        out[i * n + j] = (out[i * n + j] ?? 0) + (a[i * n + k] ?? 0) * (b[k * n + j] ?? 0);
      }
    }
  }
  return out;
}

const largest = (values: Float64Array): number =>
  values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

// Rows are taken two at a time, so that odd and even sizes go different ways.
describe.each([1, 2, 3, 4, 5, 8, 9, 14, 15])('a matrix of size %i', (n) => {
  const a = matrix(n);

  it('is the product of its factor with itself turned', () => {
    const factor = a.slice();
    expect(choleskyInPlace(factor, n)).toBe(true);
    const lower = factor.map((value, at) => (at % n <= Math.floor(at / n) ? value : 0));
    const upper = new Float64Array(n * n);
    lower.forEach((value, at) => {
      upper[(at % n) * n + Math.floor(at / n)] = value;
    });
    expect(largest(times(lower, upper, n).map((v, at) => v - (a[at] ?? 0)))).toBeLessThan(1e-13);
  });

  it('times its inverse is the identity', () => {
    const inverse = inverseOf(a, n) ?? new Float64Array(n * n);
    const product = times(a, inverse, n);
    expect(largest(product.map((v, at) => v - (at % (n + 1) === 0 ? 1 : 0)))).toBeLessThan(1e-13);
  });

  it.each([1, 2, 3])('solves %i right-hand sides', (count) => {
    const factor = a.slice();
    choleskyInPlace(factor, n);
    const wanted = Float64Array.from({ length: count * n }, (_, i) => Math.cos(i));
    const rows = new Float64Array(count * n);
    for (let r = 0; r < count; r++) {
      for (let i = 0; i < n; i++) {
        for (let k = 0; k < n; k++) {
          const at = r * n + i;
          rows[at] = (rows[at] ?? 0) + (a[i * n + k] ?? 0) * (wanted[r * n + k] ?? 0);
        }
      }
    }
    solveLowerRows(factor, n, rows, count);
    solveUpperRows(factor, n, rows, count);
    expect(largest(rows.map((value, at) => value - (wanted[at] ?? 0)))).toBeLessThan(1e-13);
  });
});

it('refuses a matrix that is not positive definite', () => {
  for (const n of [2, 3, 6]) {
    const a = matrix(n);
    a[n * n - 1] = -1;
    expect(choleskyInPlace(a, n)).toBe(false);
  }
});
