/**
 * What every fitted model offers, whatever its error structure: linear, error strata, mixed,
 * autoregressive or counts. Adjusted means, comparisons and term tests are written against this
 * alone, so that a new kind of model gets them for nothing.
 */

/** Dense, row major. `data.length === rows * columns`. */
export interface Matrix {
  readonly rows: number;
  readonly columns: number;
  readonly data: Float64Array;
}

export interface Estimate {
  estimate: number;
  /** NaN where nothing shows the error. */
  se: number;
  /** Infinity where the reference distribution is normal. */
  df: number;
}

export interface TermTest {
  /** Rank of the contrasts. */
  df: number;
  /** Infinity where the statistic is referred to chi-square. */
  dfError: number;
  statistic: number;
  kind: 'F' | 'chi-square';
  /** NaN where `dfError` is 0. */
  p: number;
}

/** Tests and limits of one combination by its likelihood, where those of its error are not exact. */
export interface Profile {
  /** Of the reference t; Infinity for the normal. */
  readonly df: number;
  /** Signed root of the likelihood ratio that the combination is zero. */
  readonly root: number;
  /** Where the root has the size `reach`, below (−1) or above (1) the estimate; may be infinite. */
  limit(reach: number, side: 1 | -1): number;
}

/** What other layouts of a draw say about one statistic, the size of a t. */
export interface LayoutReference {
  /** The share of layouts with at least `value`. */
  p(value: number): number;
  /** p(value) < alpha exactly where value > limit(alpha); null where no value is so rare. */
  limit(alpha: number): number | null;
  readonly leastP: number;
}

/** Differences that are judged by layouts drawn anew. */
export interface RandomisedFamily {
  readonly estimates: readonly Estimate[];
  /** By difference. */
  readonly single: readonly LayoutReference[];
  /** Of the largest |t| of them all. */
  readonly largest: LayoutReference;
}

export interface FittedModel {
  /** One per column of the design matrix; NaN for an aliased column. */
  readonly coefficients: Float64Array;
  /** Covariance of the coefficients (columns × columns), zero rows for aliased ones. */
  readonly covariance: Matrix;
  /** Where comparisons have covariances of different shape: the one a comparison belongs to. */
  readonly covarianceFor?: (weights: Float64Array) => Matrix;
  /** Why estimates may have no standard error, to follow a colon; the words for units if absent. */
  readonly whyNoError?: string;
  /** A linear combination of the coefficients; `weights` has one entry a design column. */
  estimate(weights: Float64Array): Estimate;
  /** Absent where estimate ± reach × standard error is the model's own interval. */
  readonly profile?: (weights: Float64Array) => Profile | null;
  /** Where means come from another fit than the coefficients do, as differences then do too. */
  readonly meanOf?: (weights: Float64Array) => Estimate;
  /**
   * Where layouts drawn anew judge differences between levels of `of`, each by itself (`apart`) or as
   * a family: those; null: they don't.
   */
  readonly randomised?: (
    of: readonly string[],
    pairs: readonly Float64Array[],
    apart: boolean,
  ) => RandomisedFamily | null;
  /** Joint test that every row of `contrasts` times the coefficients is zero. */
  test(contrasts: Matrix): TermTest;
}
