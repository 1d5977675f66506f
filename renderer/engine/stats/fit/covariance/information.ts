import {
  placeTraits,
  type DataTable,
  type FitRequest,
  type FitResult,
} from '../../../../../shared-types/fit';
import { normalLogLik } from '../../randomisation';
import type { Analysis } from '../analysis';
import { placeCovariance } from './placeCovariance';
import { unlessRefused } from '../../../../words';

/** More rows than this are not worth the time that the surface's likelihood takes. */
const MOST_ROWS = 1500;

/**
 * Akaike's criterion on a basis that models with different fixed parts share: the full
 * log-likelihood −½[n log 2π + log|V| + rᵀV⁻¹r] at the estimates (variances by REML), counting the
 * fixed coefficients and the variance parameters (Verbyla 2019, Aust. N. Z. J. Stat. 61, 39–50).
 * REML likelihoods themselves compare only models of one and the same fixed part. From the REML
 * value: plus log|XᵀV⁻¹X|/2 less p log(2π)/2, where (XᵀV⁻¹X)⁻¹ is the covariance of the coefficients.
 */
export function informationOf(
  request: FitRequest,
  table: DataTable,
  analysis: Analysis,
): FitResult['information'] {
  const { qr, design, residual, criterion, variance, spatial } = analysis;
  const n = design.y.length;
  const p = qr.rank;
  if (request.counts !== null) return null;
  if (criterion === 'ML' && residual && residual.df > 0) {
    // Least squares: V = s²I with the residual mean square, which is its REML estimate.
    const logLik = -0.5 * (n * Math.log(2 * Math.PI * residual.ms) + residual.df);
    return withAic(logLik, p + 1);
  }
  if (criterion !== 'REML' || analysis.logLik === null) return null;
  const of = request.position && placeTraits[request.position.model].covarianceOf;
  if (of === 'surface') return surfaceInformation(request, table, analysis);
  // Without units, a fit after Kenward and Roger is told by its REML criterion alone.
  if (request.randomUnits.length === 0 && isCorrected(request)) return null;
  const logDet = analysis.logDetPhi();
  if (logDet === null) return null;
  const logLik = analysis.logLik - 0.5 * logDet - (p / 2) * Math.log(2 * Math.PI);
  return withAic(logLik, p + variance.length + (spatial ? 2 : 0));
}

const isCorrected = ({ denominator }: FitRequest): boolean =>
  denominator === 'kenward-roger' || denominator === 'units';

function withAic(logLik: number, parameters: number): FitResult['information'] {
  return { logLik, parameters, aic: -2 * logLik + 2 * parameters };
}

/** A surface has trends of its own beside the design's columns; they count as coefficients. */
function surfaceInformation(
  request: FitRequest,
  table: DataTable,
  { design, variance }: Analysis,
): FitResult['information'] {
  const { x, y, rowIndex } = design;
  if (x.rows > MOST_ROWS) return null;
  const covariance = placeCovariance(request, table, rowIndex, { variance, spatial: null });
  const found = unlessRefused(() => normalLogLik(x, y, covariance));
  return found && withAic(found.logLik, found.rank + variance.length);
}
