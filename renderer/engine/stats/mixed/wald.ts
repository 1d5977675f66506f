import { EigenvalueDecomposition, Matrix as Dense } from 'ml-matrix';
import { chiSquareUpper, fUpper } from '../distributions';
import { choleskyInPlace, solveLowerRows } from './cholesky';
import { dotRange, quadratic, selfProduct, timesTransposed } from './linalg';
import type { Estimate, FittedModel, Matrix, TermTest } from '../model';
import { Refusal } from '../../../words';
import { real } from '../../entry';

/** A contrast counts as spent when this share of the largest variance is left of it. */
const SPENT = 1e-10;

/** What estimates and tests of a set of coefficients are referred to. */
export type DfMethod =
  | { kind: 'asymptotic' }
  | {
      kind: 'containment';
      /** Name of the unit in which each kept coefficient varies, and its df (may be 0). */
      strata: readonly { unit: string; df: number }[];
    }
  | {
      kind: 'satterthwaite' | 'kenward-roger';
      /** ∂Φ/∂θ_i, each rank × rank, for the variance parameters θ. */
      derivatives: readonly Float64Array[];
      /** Covariance of the estimated θ. */
      uncertainty: Float64Array;
    };

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

function combine(uncertainty: Float64Array, left: Float64Array, right: Float64Array): number {
  const m = left.length;
  let sum = 0;
  for (let i = 0; i < m; i++) sum += real(left, i) * dotRange(uncertainty, i * m, right, 0, m);
  return sum;
}

/** Df of the smallest stratum among the coefficients that a contrast touches; may be 0. */
function containmentDf(
  strata: readonly { unit: string; df: number }[],
  contrasts: readonly Float64Array[],
): number {
  let least = Infinity;
  for (const contrast of contrasts) {
    const largest = contrast.reduce((most, w) => Math.max(most, Math.abs(w)), 0);
    contrast.forEach((weight, j) => {
      const stratum = strata[j];
      if (stratum && Math.abs(weight) > 1e-9 * largest) least = Math.min(least, stratum.df);
    });
  }
  return least;
}

/** Df of an F made of independent squared t's with these df (Fai & Cornelius 1996). */
function poolDf(each: readonly number[]): number {
  const q = each.length;
  const first = each[0] ?? Infinity;
  if (each.every((df) => Math.abs(df - first) < 1e-8 || df === first)) return first;
  if (each.some((df) => df <= 2)) return 2;
  const total = each.reduce((sum, df) => sum + (df === Infinity ? 1 : df / (df - 2)), 0);
  return total > q ? (2 * total) / (total - q) : Infinity;
}

/**
 * λ and df of the scaled F, from A1 and A2 of Kenward & Roger (1997), Biometrics 53, 983–997.
 * Without any uncertainty in the variances both vanish: λ = 1 and df = Infinity.
 */
function kenwardRogerScale(q: number, a1: number, a2: number): { scale: number; df: number } {
  if (!(a2 > 0)) return { scale: 1, df: Infinity };
  const b = (a1 + 6 * a2) / (2 * q);
  const g = ((q + 1) * a1 - (q + 4) * a2) / ((q + 2) * a2);
  const c = 3 * q + 2 * (1 - g);
  const v0 = 1 + (g / c) * b;
  const v1 = 1 - ((q - g) / c) * b;
  const v2 = 1 - ((q + 2 - g) / c) * b;
  const e = 1 - a2 / q;
  // With hardly any units the denominators may vanish together; then they cancel.
  const ratio = Math.abs(e) < 1e-10 && Math.abs(v1) < 1e-10 ? 1 : e / v1;
  const rho = (ratio * ratio * v0) / (q * v2);
  const df = 4 + (q + 2) / (q * rho - 1);
  return { scale: Math.abs(df - 2) < 1e-2 ? 1 : (df * e) / (df - 2), df };
}

/** Estimates and tests of fixed effects, given their covariance and what to refer them to. */
export function waldModel(fixed: FixedEffects): FittedModel {
  const { columns, kept, beta, phi, covariance, dfMethod } = fixed;
  const rank = beta.length;

  const coefficients = new Float64Array(columns).fill(NaN);
  const full = new Float64Array(columns * columns);
  kept.forEach((column, i) => {
    coefficients[column] = real(beta, i);
    kept.forEach((other, j) => {
      full[column * columns + other] = real(covariance, i * rank + j);
    });
  });

  const shorten = (weights: Float64Array, at: number): Float64Array => {
    const short = new Float64Array(rank);
    kept.forEach((column, i) => {
      short[i] = real(weights, at + column);
    });
    return short;
  };

  const estimate = (weights: Float64Array): Estimate => {
    if (weights.length !== columns) {
      throw new Refusal(
        `estimate: ${weights.length} weights; expected ${columns}, one a design column`,
      );
    }
    const w = shorten(weights, 0);
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
      const spread = combine(dfMethod.uncertainty, slopes, slopes);
      df = spread > 0 ? (2 * variance * variance) / spread : Infinity;
    }
    // Without df nothing shows the size of the error.
    const se = df < 1 && dfMethod.kind === 'containment' ? NaN : quadratic(w, covariance);
    return { estimate: dotRange(w, 0, beta, 0, rank), se: Math.sqrt(se), df };
  };

  const test = (contrasts: Matrix): TermTest => {
    if (contrasts.columns !== columns) {
      throw new Refusal(
        `test: contrasts of ${contrasts.columns} columns; expected ${columns}, one a design column`,
      );
    }
    const rows = Array.from({ length: contrasts.rows }, (_, i) =>
      shorten(contrasts.data, i * columns),
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
  };

  return {
    coefficients,
    covariance: { rows: columns, columns, data: full },
    estimate,
    test,
  };
}

/**
 * The contrasts turned and scaled so that LΦLᵀ = I, by the eigenvectors of LΦLᵀ; dependent ones
 * are left out. For Satterthwaite df the turned contrasts, and with them the df, depend on the
 * rows that were given, not only on their span.
 */
function independentRows(
  rows: readonly Float64Array[],
  phi: Float64Array,
  rank: number,
): Float64Array {
  const count = rows.length;
  const flat = new Float64Array(count * rank);
  rows.forEach((row, i) => {
    flat.set(row, i * rank);
  });
  const gram = timesTransposed(
    flat,
    count,
    timesTransposed(flat, count, phi, rank, rank),
    count,
    rank,
  );
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < i; j++) {
      const mean = (real(gram, i * count + j) + real(gram, j * count + i)) / 2;
      gram[i * count + j] = mean;
      gram[j * count + i] = mean;
    }
  }
  const eigen = new EigenvalueDecomposition(Dense.from1DArray(count, count, gram), {
    assumeSymmetric: true,
  });
  const values = eigen.realEigenvalues;
  const largest = Math.max(0, ...values);
  const out: number[] = [];
  values.forEach((value, k) => {
    if (!(value > SPENT * largest)) return;
    const turned = new Float64Array(rank);
    for (let i = 0; i < count; i++) {
      const share = eigen.eigenvectorMatrix.get(i, k) / Math.sqrt(value);
      for (let j = 0; j < rank; j++) turned[j] = real(turned, j) + share * real(flat, i * rank + j);
    }
    out.push(...turned);
  });
  return Float64Array.from(out);
}

function satterthwaiteDf(
  q: number,
  inner: readonly Float64Array[],
  uncertainty: Float64Array,
): number {
  const each = Array.from({ length: q }, (_, i) => {
    const slopes = Float64Array.from(inner, (g) => real(g, i * q + i));
    const spread = combine(uncertainty, slopes, slopes);
    return spread > 0 ? 2 / spread : Infinity;
  });
  return poolDf(each);
}

function kenwardRogerF(
  q: number,
  t: Float64Array,
  inner: readonly Float64Array[],
  uncertainty: Float64Array,
  turned: Float64Array,
  covariance: Float64Array,
  rank: number,
): { statistic: number; dfError: number } {
  const traces = Float64Array.from(inner, (g) => {
    let trace = 0;
    for (let i = 0; i < q; i++) trace += real(g, i * q + i);
    return trace;
  });
  const m = inner.length;
  let a2 = 0;
  inner.forEach((left, i) => {
    inner.forEach((right, j) => {
      a2 += real(uncertainty, i * m + j) * dotRange(left, 0, right, 0, q * q);
    });
  });
  const matched = kenwardRogerScale(q, combine(uncertainty, traces, traces), a2);
  // With hardly any units there is no F with these moments; its df are then those of its parts.
  const { scale, df } =
    matched.df > 0 && matched.scale > 0
      ? matched
      : { scale: 1, df: satterthwaiteDf(q, inner, uncertainty) };
  const adjusted = timesTransposed(
    turned,
    q,
    timesTransposed(turned, q, covariance, rank, rank),
    q,
    rank,
  );
  if (!choleskyInPlace(adjusted, q)) {
    throw new Refusal(
      'kenward-roger: the corrected covariance of the contrasts is not positive definite',
    );
  }
  const solved = t.slice();
  solveLowerRows(adjusted, q, solved, 1);
  const statistic = (scale * real(selfProduct(solved, 1, q), 0)) / q;
  return { statistic, dfError: df };
}
