import { add, real } from '../../entry';

/** A symmetric positive definite matrix, factored: L Lᵀ, row by row. */
export interface Factored {
  n: number;
  lower: Float64Array;
  logDeterminant: number;
}

/** Cholesky's factor. Throws a RangeError where the matrix is not positive definite. */
export function factored(n: number, at: (i: number, j: number) => number): Factored {
  const lower = new Float64Array(n * n);
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = at(i, j);
      const [own, other] = [i * n, j * n];
      for (let k = 0; k < j; k++) sum -= (lower[own + k] ?? NaN) * (lower[other + k] ?? NaN);
      if (i > j) {
        lower[i * n + j] = sum / real(lower, j * n + j);
        continue;
      }
      if (!(sum > 0)) throw new RangeError(`pivot ${i} is ${sum}; more than 0 is expected`);
      lower[i * n + i] = Math.sqrt(sum);
      logDeterminant += Math.log(sum);
    }
  }
  return { n, lower, logDeterminant };
}

/** x of L Lᵀ x = b. */
export function solved({ n, lower }: Factored, b: Float64Array): Float64Array {
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    let sum = real(x, i);
    const own = i * n;
    for (let k = 0; k < i; k++) sum -= (lower[own + k] ?? NaN) * (x[k] ?? NaN);
    x[i] = sum / real(lower, own + i);
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = real(x, i);
    for (let k = i + 1; k < n; k++) sum -= (lower[k * n + i] ?? NaN) * (x[k] ?? NaN);
    x[i] = sum / real(lower, i * n + i);
  }
  return x;
}

/** Diagonal of the inverse: column sums of squares of L⁻¹. */
export function inverseDiagonal({ n, lower }: Factored): Float64Array {
  const diagonal = new Float64Array(n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let sum = i === j ? 1 : 0;
      const own = i * n;
      for (let k = j; k < i; k++) sum -= (lower[own + k] ?? NaN) * (column[k] ?? NaN);
      column[i] = sum / real(lower, i * n + i);
      add(diagonal, j, real(column, i) ** 2);
    }
  }
  return diagonal;
}
