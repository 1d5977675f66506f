import type { DataTable, FitRequest } from '../../../../../shared-types/fit';
import { buildDesign } from '../../design';
import type { KnownCovariance } from '../../randomisation';
import { covarianceParameters } from '../mixedModel';
import { placeCovariance } from './placeCovariance';

/**
 * Covariance of a request with a position model of kind smooth or ar1, its variance parameters
 * estimated by REML without the treatments, so that they are the same however treatments are drawn.
 * `y`: the response, one value a row of the request's design.
 */
export function nullCovariance(
  request: FitRequest,
  table: DataTable,
  y: Float64Array,
): KnownCovariance {
  const bare: FitRequest = {
    ...request,
    treatments: [],
    interactions: 'none',
    covariateInteractions: [],
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
    redraw: null,
    denominator: 'asymptotic',
  };
  const design = buildDesign(bare, table);
  const parameters = covarianceParameters(bare, table, { ...design, y });
  return placeCovariance(request, table, design.rowIndex, parameters);
}
