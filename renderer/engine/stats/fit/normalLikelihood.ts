import { factorise } from '../linear';
import type { Matrix } from '../model';
import { real } from '../../entry';

interface Variances {
  units: readonly { codes: Int32Array; variance: number }[];
  /** Independent effects of one variance: `count` columns, each of length n, one after another. */
  effects: readonly { count: number; rows: Float64Array; variance: number }[];
  residual: number;
}

interface NormalModel extends Variances {
  /** Fixed part, its first column the intercept. */
  x: Matrix;
  y: Float64Array;
}

/** V = Σ σ²ZZᵀ + σ²I of n rows, row major; only its lower triangle is filled. */
export function covarianceOf({ units, effects, residual }: Variances, n: number): Float64Array {
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = i === j ? residual : 0;
      for (const { codes, variance } of units) if (codes[i] === codes[j]) sum += variance;
      v[i * n + j] = sum;
    }
  }
  for (const { count, rows, variance } of effects) {
    if (!(variance > 0)) continue;
    for (let k = 0; k < count; k++) {
      const z = rows.subarray(k * n, (k + 1) * n);
      for (let i = 0; i < n; i++) {
        const zi = variance * real(z, i);
        if (zi === 0) continue;
        for (let j = 0; j <= i; j++) v[i * n + j] = real(v, i * n + j) + zi * real(z, j);
      }
    }
  }
  return v;
}

/**
 * log N(y; Xβ̂, V) with V = Σ σ²ZZᵀ + σ²I and β̂ by generalised least squares, and the rank of X:
 * V = LLᵀ, then least squares on L⁻¹[X y]. Takes n³/6 operations. null where V is singular.
 */
export function normalLogLik(model: NormalModel): { logLik: number; rank: number } | null {
  const { x, y } = model;
  const n = x.rows;
  const v = covarianceOf(model, n);
  let logDet = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = real(v, i * n + j);
      for (let k = 0; k < j; k++) sum -= real(v, i * n + k) * real(v, j * n + k);
      if (i === j) {
        if (!(sum > 0)) return null;
        v[i * n + i] = Math.sqrt(sum);
        logDet += Math.log(sum);
      } else v[i * n + j] = sum / (v[j * n + j] ?? 1);
    }
  }
  const p = x.columns;
  const whiteX = x.data.slice();
  const whiteY = y.slice();
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) {
      const l = real(v, i * n + k);
      if (l === 0) continue;
      for (let j = 0; j < p; j++) {
        whiteX[i * p + j] = real(whiteX, i * p + j) - l * real(whiteX, k * p + j);
      }
      whiteY[i] = real(whiteY, i) - l * real(whiteY, k);
    }
    const pivot = v[i * n + i] ?? 1;
    for (let j = 0; j < p; j++) whiteX[i * p + j] = real(whiteX, i * p + j) / pivot;
    whiteY[i] = real(whiteY, i) / pivot;
  }
  const qr = factorise({ rows: n, columns: p, data: whiteX });
  qr.applyQt(whiteY);
  let squares = 0;
  for (let i = qr.rank; i < n; i++) squares += real(whiteY, i) ** 2;
  return { logLik: -0.5 * (n * Math.log(2 * Math.PI) + logDet + squares), rank: qr.rank };
}
