import { fUpper } from '../distributions';
import type { Estimate, FittedModel, Matrix, TermTest } from '../model';
import { dot, times } from './matrix';
import { spaceOf } from './qr';
import type { Qr } from './householder';
import { refine } from './refine';
import { quadraticForm, standardError } from './wald';
import { Refusal } from '../../../words';
import { add, entry, real } from '../../entry';

export interface LinearFit extends FittedModel {
  readonly qr: Qr;
  readonly residual: { readonly df: number; readonly ss: number; readonly ms: number };
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  /** Diagonal of the projection on the design's column space. */
  readonly leverage: Float64Array;
  /** Maximised log-likelihood, normal errors, and Akaike's criterion counting the variance. */
  readonly logLik: number;
  readonly aic: number;
}

/**
 * Ordinary least squares. `x` is n × p, row major, its first column the intercept; aliased
 * columns get the coefficient NaN. With no residual df the residual mean square is NaN and so
 * are the standard errors; callers report them as missing.
 */
export function fitLinear(x: Matrix, y: Float64Array): LinearFit {
  const n = x.rows;
  if (y.length !== n) {
    throw new Refusal(`linear fit: found ${y.length} responses for ${n} rows; expected one a row`);
  }
  const qr = spaceOf(x);
  const { rank } = qr;
  const centre = mean(y);
  const rotated = y.map((value) => value - centre);
  qr.applyQt(rotated);
  const own = qr.solveUpper(rotated);
  add(own, 0, centre / (x.data[0] || 1));
  const residuals = rotated.slice();
  residuals.fill(0, 0, rank);
  qr.applyQ(residuals);
  refine(x, qr, y, own, residuals);

  const coefficients = new Float64Array(x.columns).fill(NaN);
  qr.kept.forEach((j, k) => {
    coefficients[j] = own[k] ?? NaN;
  });
  const df = n - rank;
  const ss = df > 0 ? dot(residuals, residuals) : 0;
  const ms = df > 0 ? ss / df : NaN;
  const covariance = unscaledCovariance(qr, ms);
  const logLik = (-n / 2) * (Math.log((2 * Math.PI * ss) / n) + 1);
  return {
    qr,
    coefficients,
    covariance,
    residual: { df, ss, ms },
    residuals,
    fitted: y.map((value, i) => value - real(residuals, i)),
    leverage: leverages(qr),
    logLik,
    aic: -2 * logLik + 2 * (rank + 1),
    estimate: (weights) => estimateLinear(weights, coefficients, covariance, df),
    test(contrasts): TermTest {
      const { value, rank: q } = quadraticForm(contrasts, coefficients, covariance);
      const statistic = value / q;
      return { df: q, dfError: df, statistic, kind: 'F', p: fUpper(statistic, q, df) };
    },
  };
}

/** A combination of coefficients with its standard error on the given df. */
export function estimateLinear(
  weights: Float64Array,
  coefficients: Float64Array,
  covariance: Matrix,
  df: number,
): Estimate {
  let estimate = 0;
  for (let j = 0; j < weights.length; j++) {
    const value = coefficients[j] ?? NaN;
    if (!Number.isNaN(value)) estimate += real(weights, j) * value;
  }
  return { estimate, se: standardError(weights, covariance), df };
}

/** scale × (XᵀX)⁻ over all columns, zero in the rows and columns of aliased ones. */
export function unscaledCovariance(qr: Qr, scale: number): Matrix {
  const p = qr.columns;
  const inverse = qr.kept.map((_, k) => {
    const e = new Float64Array(qr.rank);
    e[k] = 1;
    return qr.solveUpper(qr.solveLower(e));
  });
  const data = new Float64Array(p * p);
  qr.kept.forEach((i, a) => {
    qr.kept.forEach((j, b) => {
      data[i * p + j] = scale * real(entry(inverse, a), b);
    });
  });
  return { rows: p, columns: p, data };
}

export function leverages(qr: Qr): Float64Array {
  const h = new Float64Array(qr.rows);
  for (let k = 0; k < qr.rank; k++) {
    const direction = qr.direction(k);
    for (let i = 0; i < h.length; i++) add(h, i, real(direction, i) ** 2);
  }
  return h;
}

/** Mean in two passes: the second takes away what the first lost to rounding. */
export function mean(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  const first = sum / values.length;
  let rest = 0;
  for (const value of values) rest += value - first;
  return first + rest / values.length;
}

export function predict(x: Matrix, coefficients: Float64Array): Float64Array {
  return times(
    x,
    coefficients.map((value) => (Number.isNaN(value) ? 0 : value)),
  );
}
