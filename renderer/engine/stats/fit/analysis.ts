import type { FitResult, TermRow } from '../../../../shared-types/fit';
import type { Design } from '../design';
import type { Qr } from '../linear';
import type { FittedModel } from '../model';
import type { VarianceEstimate } from './varianceRows';

/** What the different kinds of model hand to the common part of a fit. */
export interface Analysis {
  readonly model: FittedModel;
  readonly design: Design;
  /** Of the design matrix: says which columns are aliased and which means can be estimated. */
  readonly qr: Qr;
  readonly terms: TermRow[];
  readonly residual: FitResult['residual'];
  readonly variance: readonly VarianceEstimate[];
  readonly meanSquares: FitResult['meanSquares'];
  readonly logLik: number | null;
  readonly criterion: FitResult['criterion'];
  readonly aic: number | null;
  readonly spatial: FitResult['spatial'];
  /** log|Φ| of the coefficients with the variances taken as known; null where there is none. */
  readonly logDetPhi: () => number | null;
  readonly wald: FitResult['wald'];
  readonly dispersion: number | null;
  /** On the scale of the measurement as analysed (the transformed one; counts as counts). */
  readonly fitted: Float64Array;
  readonly residuals: Float64Array;
  readonly leverage: Float64Array | null;
  /** From the scale of the means back to that of the measurement; null where they are the same. */
  readonly undo: ((value: number) => number) | null;
  /** Sentences that say what was done. */
  readonly method: readonly string[];
  readonly warnings: readonly string[];
}

/** What most kinds of model leave empty. */
export const noExtras: Pick<
  Analysis,
  | 'variance'
  | 'meanSquares'
  | 'logLik'
  | 'criterion'
  | 'aic'
  | 'spatial'
  | 'logDetPhi'
  | 'wald'
  | 'dispersion'
  | 'leverage'
> = {
  variance: [],
  meanSquares: [],
  logLik: null,
  criterion: null,
  aic: null,
  spatial: null,
  logDetPhi: () => null,
  wald: null,
  dispersion: null,
  leverage: null,
};
