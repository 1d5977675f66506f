import {
  placeTraits,
  type DataTable,
  type FitRequest,
  type PlaceCovariance,
} from '../../../../../shared-types/fit';
import { combineColumns, randomUnits } from '../../design';
import type { Design } from '../../design';
import { mean } from '../../linear';
import { coarseSearch } from '../../mixed/place/coarse';
import type { PlaceBlock } from '../../mixed/place/coarseCriterion';
import { placeShapes, type Place } from '../../mixed/place/placeShapes';
import { readNumbers } from '../../table';
import type { UntreatedModel } from '../randomisation';
import { real } from '../../../entry';

/** Values that a correlation between neighbours, and the share of a nugget, may take. */
const CORRELATIONS = [0, 0.3, 0.6, 0.8, 0.93];
const NUGGETS = [0.1, 0.35, 0.65, 1];
/** Values that the variance of a curvature or a unit may take, as multiples of that of a pot. */
const RATIOS = [0, 0.1, 0.4, 1.6, 6];
const LEVELS: Record<PlaceCovariance, readonly (readonly number[])[]> = {
  neighbours: [CORRELATIONS, CORRELATIONS, NUGGETS],
  surface: [RATIOS, RATIOS, RATIOS],
};

/**
 * What `untreatedModel` says, with variance parameters from a coarse grid: for trials made up by the
 * thousand on the same places. Factors of V are kept from one to the next. A randomisation test holds
 * its level with any V that no layout changes; a coarse V costs a little power.
 * null for a request without a covariance of its own.
 */
export function coarseUntreated(
  request: FitRequest,
  table: DataTable,
): ((design: Design) => (y: Float64Array) => UntreatedModel) | null {
  const { position } = request;
  const of = position && placeTraits[position.model].covarianceOf;
  if (!position || !of) return null;
  const all = Int32Array.from({ length: table.rowCount }, (_, i) => i);
  const place: Place = {
    row: readNumbers(table, position.row, all, 'row'),
    column: readNumbers(table, position.column, all, 'column'),
    group: combineColumns(table, position.within, all).codes,
    units: randomUnits(request, table, all).map(({ codes }) => codes),
  };
  const levels = [...LEVELS[of], ...place.units.map(() => RATIOS)];
  const blocks = placeShapes(place, { of, levels });
  return (design) => {
    const treated = new Set(
      design.terms.filter(({ role }) => role === 'treatment').flatMap(({ columns }) => columns),
    );
    const stay = design.columns.flatMap((_, j) => (treated.has(j) ? [] : [j]));
    const present = presentIn(blocks, design, table.rowCount);
    const x = stay.map((j) =>
      Float64Array.from(design.rowIndex, (_, i) => real(design.x.data, i * design.x.columns + j)),
    );
    const search = coarseSearch(
      present,
      x,
      levels.map((one) => one.length),
    );
    return (y) => {
      const centre = mean(y);
      return search(y.map((value) => value - centre));
    };
  };
}

/** The blocks with the rows of a design that stand in them. */
function presentIn(
  blocks: ReturnType<typeof placeShapes>,
  design: Design,
  rowCount: number,
): PlaceBlock[] {
  const rowOf = new Int32Array(rowCount).fill(-1);
  design.rowIndex.forEach((index, i) => (rowOf[index] = i));
  return blocks.flatMap(({ shape, rows }) => {
    const inside = Int32Array.from(rows, (row) => rowOf[row] ?? -1);
    return inside.some((row) => row >= 0) ? [{ shape, rows: inside }] : [];
  });
}
