import {
  placeTraits,
  type DataTable,
  type FitRequest,
  type FitResult,
} from '../../../../../shared-types/fit';
import { combineColumns, randomUnits } from '../../design';
import { surfaceOf } from '../../mixed/place/surface';
import type { KnownCovariance } from '../../randomisation';
import { readNumbers } from '../../table';
import { varianceBlocks } from './varianceBlocks';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

/** What a fit estimates of a covariance. */
export interface CovarianceParameters {
  readonly variance: readonly { readonly unit: string; readonly variance: number }[];
  readonly spatial: FitResult['spatial'];
}

/**
 * How rows of a table vary together under a position model of kind smooth or ar1. Throws where the
 * request has none.
 */
export function placeCovariance(
  request: FitRequest,
  table: DataTable,
  rowIndex: Int32Array,
  { variance, spatial }: CovarianceParameters,
): KnownCovariance {
  const { position } = request;
  const of = position && placeTraits[position.model].covarianceOf;
  if (!position || !of) {
    throw new Refusal(
      'redraw: a covariance of its own belongs to the position models smooth and ar1',
    );
  }
  const named = (unit: string): number => variance.find((row) => row.unit === unit)?.variance ?? 0;
  const units = randomUnits(request, table, rowIndex).map(({ unit, codes }) => ({
    codes,
    variance: named(unit),
  }));
  const row = readNumbers(table, position.row, rowIndex, 'row');
  const column = readNumbers(table, position.column, rowIndex, 'column');
  const group = combineColumns(table, position.within, rowIndex).codes;
  if (of === 'surface') {
    const { trends, curvatures } = surfaceOf(row, column, group);
    const effects = curvatures.map(({ name, columns }) => ({ columns, variance: named(name) }));
    const residual = named('residual');
    return { blocks: varianceBlocks({ group, units, effects, trends, residual }) };
  }
  if (!spatial)
    throw new Refusal('randomisation test: the correlation of neighbours was not estimated');
  const { rowCorrelation, columnCorrelation, spatialVariance, nugget } = spatial;
  const shared = (i: number, j: number): number => {
    const rows = Math.abs(real(row, i) - real(row, j));
    const columns = Math.abs(real(column, i) - real(column, j));
    return spatialVariance * rowCorrelation ** rows * columnCorrelation ** columns;
  };
  return { blocks: varianceBlocks({ group, units, shared, residual: nugget }) };
}
