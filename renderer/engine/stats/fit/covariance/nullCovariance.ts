import { placeTraits, type DataTable, type FitRequest } from '../../../../../shared-types/fit';
import { buildDesign, combineColumns, randomUnits } from '../../design';
import { surfaceOf } from '../../mixed/place/surface';
import { readNumbers } from '../../table';
import { analyseMixed } from '../mixedModel';
import { covarianceOf } from '../normalLikelihood';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

/** How the rows of a design vary together where no treatment does anything. */
export interface NullCovariance {
  /** Row major; only the lower triangle is filled. */
  readonly v: Float64Array;
  /** Fixed trends that the position model brings beside the design, each of length n. */
  readonly trends: readonly Float64Array[];
}

/**
 * Covariance of a request with a position model of kind smooth or ar1, its variance parameters
 * estimated by REML without the treatments, so that they are the same however treatments are drawn.
 * `y`: the response, one value a row of the request's design.
 */
export function nullCovariance(
  request: FitRequest,
  table: DataTable,
  y: Float64Array,
): NullCovariance {
  const { position } = request;
  const of = position && placeTraits[position.model].covarianceOf;
  if (!position || !of) {
    throw new Refusal(
      'redraw: a covariance of its own belongs to the position models smooth and ar1',
    );
  }
  const bare: FitRequest = {
    ...request,
    ...{ treatments: [], interactions: 'none', covariateInteractions: [] },
    ...{ means: [], compare: [], contrasts: [], checks: [], redraw: null },
    denominator: 'asymptotic',
  };
  const design = buildDesign(bare, table);
  const { rowIndex } = design;
  const { variance, spatial } = analyseMixed(bare, table, { ...design, y });
  const named = (unit: string): number => variance.find((row) => row.unit === unit)?.variance ?? 0;
  const units = randomUnits(request, table, rowIndex).map(({ unit, codes }) => ({
    codes,
    variance: named(unit),
  }));
  const row = readNumbers(table, position.row, rowIndex, 'row');
  const column = readNumbers(table, position.column, rowIndex, 'column');
  const group = combineColumns(table, position.within, rowIndex).codes;
  const n = y.length;
  if (of === 'surface') {
    const { trends, curvatures } = surfaceOf(row, column, group);
    const effects = curvatures.map(({ name, count, rows }) => ({
      ...{ count, rows },
      variance: named(name),
    }));
    return { v: covarianceOf({ units, effects, residual: named('residual') }, n), trends };
  }
  if (!spatial)
    throw new Refusal('randomisation test: the correlation of neighbours was not estimated');
  const { rowCorrelation, columnCorrelation, spatialVariance, nugget } = spatial;
  const v = covarianceOf({ units, effects: [], residual: nugget }, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      if (group[i] !== group[j]) continue;
      const rows = Math.abs(real(row, i) - real(row, j));
      const columns = Math.abs(real(column, i) - real(column, j));
      const likeness = rowCorrelation ** rows * columnCorrelation ** columns;
      v[i * n + j] = real(v, i * n + j) + spatialVariance * likeness;
    }
  }
  return { v, trends: [] };
}
