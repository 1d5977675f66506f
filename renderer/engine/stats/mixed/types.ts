import type { FittedModel, Matrix } from '../model';

/**
 * What tests and intervals of the fixed effects are referred to.
 *
 * - `satterthwaite`: F and t on df matched to the variance of the estimated variance.
 * - `kenward-roger`: the same idea with a covariance corrected for small samples.
 * - `containment`: the df of the unit whose variation is the error term.
 * - `asymptotic`: normal and chi-square, as if the variances were known.
 */
export type Denominator = 'satterthwaite' | 'kenward-roger' | 'containment' | 'asymptotic';

/** One kind of unit with a random effect: the pots of a tray share the tray's. */
export interface RandomUnit {
  /** Name of the unit, e.g. `shelf × tray`. */
  unit: string;
  /** Level of each row, 0 … levels − 1. */
  codes: Int32Array;
  levels: number;
}

export interface MixedInput {
  /** Fixed effects, one row a pot, treatment coding. */
  x: Matrix;
  y: Float64Array;
  /** Nested or crossed in any way. */
  random: RandomUnit[];
  denominator: Denominator;
}

export interface MixedFit extends FittedModel {
  /** In the order the units were given, then `residual`; df are 2σ⁴ over the variance of σ². */
  readonly variance: { unit: string; variance: number; df?: number | null }[];
  /** −½[(n−p)log 2π + log|V| + log|XᵀV⁻¹X| + rᵀV⁻¹r] at the optimum. */
  readonly logLik: number;
  readonly criterion: 'REML';
  /** −2 logLik + 2 × (coefficients that are not aliased + variance parameters). */
  readonly aic: number;
  /** log|Φ|, Φ = (XᵀV⁻¹X)⁻¹ of the coefficients as if V were known; null where it is singular. */
  readonly logDetPhi: () => number | null;
  /** Fixed plus predicted random effects, one a row. */
  readonly fitted: Float64Array;
  /** In words, for the person. */
  readonly warnings: string[];
}

/** A variance whose columns X explains to within this share cannot be estimated. */
export const EXPLAINED = 1e-10;
