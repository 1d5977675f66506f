import { chiSquareUpper, fUpper } from '../../distributions';
import type { Estimate, FittedModel, Matrix, TermTest } from '../../model';
import { choleskyInPlace, logDeterminant } from '../cholesky';
import { dotRange, quadratic, timesTransposed } from '../linalg';
import { containmentDf, jointSpread, satterthwaiteDf, type DfMethod } from './df';
import { independentRows } from './independent';
import { kenwardRogerF } from './kenwardRoger';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

export interface FixedEffects {
  /** Columns of the design matrix that the caller knows. */
  columns: number;
  /** Which of them are estimated; `beta` and `phi` may hold further coefficients after these. */
  kept: Int32Array;
  beta: Float64Array;
  /** (XᵀV⁻¹X)⁻¹ */
  phi: Float64Array;
  /** The covariance to report: Φ, or Φ corrected for small samples. */
  covariance: Float64Array;
  dfMethod: DfMethod;
}

/** Estimates and tests of fixed effects, given their covariance and what to refer them to. */
export function waldModel(fixed: FixedEffects): FittedModel {
  return {
    coefficients: inColumns(fixed),
    covariance: covarianceOf(fixed),
    estimate: (weights) => estimateOf(fixed, weights),
    test: (contrasts) => testOf(fixed, contrasts),
  };
}

/**
 * log|Φ| of the coefficients that the caller knows; null where it is singular. Covariates of very
 * different size: by way of their correlations.
 */
export function logDetPhi({ kept, beta, phi }: FixedEffects): number | null {
  const size = kept.length;
  const scales = Float64Array.from(kept, (_, i) => Math.sqrt(real(phi, i * beta.length + i)));
  const correlations = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const value = real(phi, i * beta.length + j);
      correlations[i * size + j] = value / (real(scales, i) * real(scales, j));
    }
  }
  if (!choleskyInPlace(correlations, size)) return null;
  return logDeterminant(correlations, size) + 2 * scales.reduce((sum, s) => sum + Math.log(s), 0);
}

/** NaN where a column is aliased. */
function inColumns({ columns, kept, beta }: FixedEffects): Float64Array {
  const coefficients = new Float64Array(columns).fill(NaN);
  kept.forEach((column, i) => {
    coefficients[column] = real(beta, i);
  });
  return coefficients;
}

function covarianceOf({ columns, kept, beta, covariance }: FixedEffects): Matrix {
  const data = new Float64Array(columns * columns);
  kept.forEach((column, i) => {
    kept.forEach((other, j) => {
      data[column * columns + other] = real(covariance, i * beta.length + j);
    });
  });
  return { rows: columns, columns, data };
}

/** The weights of the estimated coefficients, from those of all columns. */
function shorten({ kept, beta }: FixedEffects, weights: Float64Array, at: number): Float64Array {
  const short = new Float64Array(beta.length);
  kept.forEach((column, i) => {
    short[i] = real(weights, at + column);
  });
  return short;
}

function estimateOf(fixed: FixedEffects, weights: Float64Array): Estimate {
  const { columns, beta, phi, covariance, dfMethod } = fixed;
  if (weights.length !== columns) {
    throw new Refusal(
      `estimate: ${weights.length} weights; expected ${columns}, one a design column`,
    );
  }
  const w = shorten(fixed, weights, 0);
  const variance = quadratic(w, phi);
  if (!(variance > 0)) {
    throw new Refusal(
      'estimate: every weight is zero or on an aliased column; expected one that is not',
    );
  }
  let df = Infinity;
  if (dfMethod.kind === 'containment') df = containmentDf(dfMethod.strata, [w]);
  else if (dfMethod.kind !== 'asymptotic') {
    const slopes = Float64Array.from(dfMethod.derivatives, (d) => quadratic(w, d));
    const spread = jointSpread(dfMethod.uncertainty, slopes, slopes);
    df = spread > 0 ? (2 * variance * variance) / spread : Infinity;
  }
  // Without df nothing shows the size of the error.
  const se = df < 1 && dfMethod.kind === 'containment' ? NaN : quadratic(w, covariance);
  return { estimate: dotRange(w, 0, beta, 0, beta.length), se: Math.sqrt(se), df };
}

function testOf(fixed: FixedEffects, contrasts: Matrix): TermTest {
  const { columns, beta, phi, covariance, dfMethod } = fixed;
  const rank = beta.length;
  if (contrasts.columns !== columns) {
    throw new Refusal(
      `test: contrasts of ${contrasts.columns} columns; expected ${columns}, one a design column`,
    );
  }
  const rows = Array.from({ length: contrasts.rows }, (_, i) =>
    shorten(fixed, contrasts.data, i * columns),
  );
  const turned = independentRows(rows, phi, rank);
  const q = turned.length / Math.max(1, rank);
  if (q === 0) {
    throw new Refusal(
      'test: the contrasts are all zero or aliased; expected one that can be estimated',
    );
  }
  const t = new Float64Array(q);
  for (let i = 0; i < q; i++) t[i] = dotRange(turned, i * rank, beta, 0, rank);
  const sum = dotRange(t, 0, t, 0, q);
  if (dfMethod.kind === 'asymptotic') {
    const p = chiSquareUpper(sum, q);
    return { df: q, dfError: Infinity, statistic: sum, kind: 'chi-square', p };
  }
  if (dfMethod.kind === 'containment') {
    const dfError = containmentDf(dfMethod.strata, rows);
    const p = dfError < 1 ? NaN : fUpper(sum / q, q, dfError);
    return { df: q, dfError, statistic: sum / q, kind: 'F', p };
  }
  const inner = dfMethod.derivatives.map((d) =>
    timesTransposed(turned, q, timesTransposed(turned, q, d, rank, rank), q, rank),
  );
  const { statistic, dfError } =
    dfMethod.kind === 'satterthwaite'
      ? { statistic: sum / q, dfError: satterthwaiteDf(q, inner, dfMethod.uncertainty) }
      : kenwardRogerF(q, t, inner, dfMethod.uncertainty, turned, covariance, rank);
  return { df: q, dfError, statistic, kind: 'F', p: fUpper(statistic, q, dfError) };
}
