import { placeTraits, type DataTable, type FitRequest } from '../../../../shared-types/fit';
import { readCategory } from '../table/columns';
import { crossedName } from './terms';
import { Refusal } from '../../../words';
import { whole } from '../../entry';

/** Units of one kind (trays, shelves…): which unit each row of the fit belongs to. */
export interface UnitCodes {
  /** The columns that tell them apart, crossed: `shelf × tray`. */
  readonly unit: string;
  readonly columns: readonly string[];
  readonly codes: Int32Array;
  readonly levels: number;
  /** Level names joined with ` · `, by code. */
  readonly names: readonly string[];
}

/** Units told apart by a combination of columns; a single unit where no column is named. */
export function combineColumns(
  table: DataTable,
  columns: readonly string[],
  rows: Int32Array,
): UnitCodes {
  const parts = columns.map((name) => readCategory(table, name, rows, 'unit'));
  const rank = new Map<number, number>();
  const keys = Array.from(rows, (_, i) => {
    let key = 0;
    for (const part of parts) key = key * part.levels.length + whole(part.codes, i);
    return key;
  });
  for (const key of [...new Set(keys)].sort((a, b) => a - b)) rank.set(key, rank.size);
  const codes = Int32Array.from(keys, (key) => rank.get(key) ?? 0);
  const names = new Array<string>(rank.size).fill('');
  codes.forEach((code, i) => {
    if (names[code] !== '') return;
    names[code] = parts.map((part) => part.levels[whole(part.codes, i)] ?? '').join(' · ');
  });
  return { unit: crossedName(columns), columns, codes, levels: rank.size, names };
}

/**
 * The random units of a request, in its order, followed by `row` and `column` where the position
 * model is `rows+columns` (each row within its group counts as a row of its own).
 */
export function randomUnits(request: FitRequest, table: DataTable, rows: Int32Array): UnitCodes[] {
  const units = request.randomUnits.map((columns) => combineColumns(table, columns, rows));
  const { position } = request;
  if (position && placeTraits[position.model].randomLines) {
    const along = (name: string): UnitCodes =>
      combineColumns(table, [...position.within, name], rows);
    units.push(
      { ...along(position.row), unit: 'row' },
      { ...along(position.column), unit: 'column' },
    );
  }
  const seen = new Set<string>();
  for (const { unit, levels } of units) {
    if (seen.has(unit)) throw new Refusal(`randomUnits: ${unit} is named twice; expected it once`);
    seen.add(unit);
    if (unit === 'residual') {
      throw new Refusal(
        'randomUnits: found a column named residual, as the variation of single rows is; expected ' +
          'another name',
      );
    }
    if (levels < 2) {
      throw new Refusal(
        `randomUnits: found a single unit of ${unit}; a variance between units needs at least 2`,
      );
    }
  }
  return units;
}
