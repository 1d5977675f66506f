import { LuDecomposition, Matrix as Dense, inverse } from 'ml-matrix';
import type { Matrix } from '../../../../renderer/engine/stats/model';

/** Numbers that look like chance and are the same everywhere: roughly normal, mean 0, sd 1. */
export function noise(count: number, seed: number): Float64Array {
  let state = seed;
  const next = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return (state + 0.5) / 2147483648;
  };
  return Float64Array.from(
    { length: count },
    () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next()),
  );
}

export interface DenseFit {
  beta: number[];
  covariance: Dense;
  logLik: number;
}

const logDet = (matrix: Dense): number => {
  const upper = new LuDecomposition(matrix).upperTriangularMatrix;
  let sum = 0;
  for (let i = 0; i < upper.rows; i++) sum += Math.log(Math.abs(upper.get(i, i)));
  return sum;
};

/** Generalised least squares and REML log-likelihood by the textbook, with V written out. */
export function denseFit(x: Matrix, y: Float64Array, v: Dense): DenseFit {
  const X = new Dense(
    Array.from({ length: x.rows }, (_, i) =>
      Array.from(x.data.subarray(i * x.columns, (i + 1) * x.columns)),
    ),
  );
  const Y = Dense.columnVector(Array.from(y));
  const vInverse = inverse(v);
  const gram = X.transpose().mmul(vInverse).mmul(X);
  const covariance = inverse(gram);
  const beta = covariance.mmul(X.transpose()).mmul(vInverse).mmul(Y);
  const rest = Dense.sub(Y, X.mmul(beta));
  const square = rest.transpose().mmul(vInverse).mmul(rest).get(0, 0);
  const free = x.rows - x.columns;
  return {
    beta: beta.to1DArray(),
    covariance,
    logLik: -(free * Math.log(2 * Math.PI) + logDet(v) + logDet(gram) + square) / 2,
  };
}

/** Σ variance × ZZᵀ of units + residual × I. */
export function unitCovariance(
  codes: readonly Int32Array[],
  variances: readonly number[],
  residual: number,
): Dense {
  const n = codes[0]?.length ?? 0;
  const v = Dense.eye(n, n).mul(residual);
  codes.forEach((unit, k) => {
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        if (unit[i] === unit[j]) v.set(i, j, v.get(i, j) + (variances[k] ?? 0));
      }
    }
  });
  return v;
}
