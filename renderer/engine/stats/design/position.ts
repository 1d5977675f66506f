import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import { cellNumber, isMissing } from '../../../tables/cells';
import { column, readNumbers } from '../table/columns';
import type { Category } from '../table/columns';
import { crossedName } from './terms';
import { combineColumns } from './units';
import { Refusal } from '../../../words';
import { real, whole } from '../../entry';

type Position = NonNullable<FitRequest['position']>;

export interface PositionPart {
  readonly factors: readonly Category[];
  readonly covariates: ReadonlyMap<string, Float64Array>;
}

/**
 * What the position model adds to the fixed part: `edge` a factor with the levels `edge` and
 * `inner`, `linear` the covariates `row` and `column`; the others add nothing fixed.
 */
export function positionPart(
  position: Position | null,
  table: DataTable,
  rows: Int32Array,
  taken: ReadonlySet<string>,
): PositionPart {
  const covariates = new Map<string, Float64Array>();
  if (position === null) return { factors: [], covariates };
  const { model } = position;
  switch (model) {
    case 'edge':
      return { factors: [edgeFactor(position, table, rows, taken)], covariates };
    case 'linear': {
      const free = (name: string): string => (taken.has(name) ? `${name} (position)` : name);
      covariates.set(free('row'), readNumbers(table, position.row, rows, 'row'));
      covariates.set(free('column'), readNumbers(table, position.column, rows, 'column'));
      return { factors: [], covariates };
    }
    case 'rows+columns':
    case 'smooth':
    case 'ar1':
      return { factors: [], covariates };
    default:
      return model satisfies never;
  }
}

/**
 * A pot stands on the edge when it is in the first or last row or column of its group. Pots
 * without a response count as standing there: a dead pot still shades its neighbour.
 */
function edgeFactor(
  position: Position,
  table: DataTable,
  rows: Int32Array,
  taken: ReadonlySet<string>,
): Category {
  const rowCells = column(table, position.row);
  const columnCells = column(table, position.column);
  const placed = Int32Array.from(
    Array.from({ length: table.rowCount }, (_, i) => i).filter(
      (i) =>
        cellNumber(rowCells[i] ?? null) !== null &&
        cellNumber(columnCells[i] ?? null) !== null &&
        position.within.every((name) => !isMissing(column(table, name)[i])),
    ),
  );
  const group = combineColumns(table, position.within, placed).codes;
  const r = readNumbers(table, position.row, placed, 'row');
  const c = readNumbers(table, position.column, placed, 'column');
  const box = new Map<number, [number, number, number, number]>();
  placed.forEach((_, i) => {
    const g = whole(group, i);
    const [top, bottom, left, right] = box.get(g) ?? [Infinity, -Infinity, Infinity, -Infinity];
    const y = real(r, i);
    const x = real(c, i);
    box.set(g, [Math.min(top, y), Math.max(bottom, y), Math.min(left, x), Math.max(right, x)]);
  });
  const onEdge = new Map<number, boolean>();
  placed.forEach((tableRow, i) => {
    const [top, bottom, left, right] = box.get(whole(group, i)) ?? [0, 0, 0, 0];
    const y = real(r, i);
    const x = real(c, i);
    onEdge.set(tableRow, y === top || y === bottom || x === left || x === right);
  });
  // Reading the rows of the fit once more names the first one without a place.
  readNumbers(table, position.row, rows, 'row');
  readNumbers(table, position.column, rows, 'column');
  combineColumns(table, position.within, rows);
  const codes = Int32Array.from(rows, (row) => (onEdge.get(row) ? 0 : 1));
  return {
    name: taken.has('edge') ? 'edge (position)' : 'edge',
    levels: ['edge', 'inner'],
    codes,
  };
}

/** Correlation falls with distance; two pots at no distance would have to be one and the same. */
export function refuseSharedPlaces(
  place: { row: Float64Array; column: Float64Array; group: Int32Array },
  rowIndex: Int32Array,
  within: readonly string[],
): void {
  const first = new Map<string, number>();
  rowIndex.forEach((tableRow, i) => {
    const key = `${place.group[i]} ${place.row[i]} ${place.column[i]}`;
    const other = first.get(key);
    if (other !== undefined) {
      const group = within.length > 0 ? ` of one ${crossedName(within)}` : '';
      throw new Refusal(
        `position: rows ${other + 1} and ${tableRow + 1} of the table both stand at row ` +
          `${place.row[i]}, column ${place.column[i]}${group}; expected one pot a place (several ` +
          'trays need their column under "within")',
      );
    }
    first.set(key, tableRow);
  });
}
