import type { DataTable } from '../../../../shared-types/fit';
import { cellNumber, isMissing, type Cell } from '../../../tables/cells';
import { Refusal } from '../../../words';
import { num, whole } from '../../entry';

/** A factor as read from a table: sorted level names and, a row, the index of its level. */
export interface Category {
  readonly name: string;
  readonly levels: readonly string[];
  readonly codes: Int32Array;
}

/** The cells of a column. Throws where the table has no column of that name. */
export function column(table: DataTable, name: string): readonly Cell[] {
  const cells = Object.hasOwn(table.columns, name) ? table.columns[name] : undefined;
  if (!cells) {
    throw new Refusal(
      `column "${name}": not in the table; expected one of ${Object.keys(table.columns).join(', ')}`,
    );
  }
  if (cells.length !== table.rowCount) {
    throw new Refusal(
      `column "${name}": holds ${cells.length} cells; expected one a row, ${table.rowCount}`,
    );
  }
  return cells;
}

/**
 * Level names in order: by number where every name is a number, otherwise by code unit, so that
 * the order is the same on every machine.
 */
export function sortLevels(names: Iterable<string>): string[] {
  const sorted = [...new Set(names)].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
  const numbers = sorted.map((name) => cellNumber(name));
  if (numbers.some((value) => value === null)) return sorted;
  return sorted.sort((a, b) => Number(a) - Number(b));
}

/** Levels and codes of the given rows of a column. Throws at the first missing cell. */
export function readCategory(
  table: DataTable,
  name: string,
  rows: Int32Array,
  role: string,
): Category {
  const cells = column(table, name);
  // By cell first: a column has many rows and few levels.
  const seen = new Map<Cell, number>();
  const texts: string[] = [];
  const codes = new Int32Array(rows.length);
  for (let i = 0; i < rows.length; i++) {
    const row = whole(rows, i);
    const cell = cells[row];
    // The word NA may be a level's name here: a reader of files has told it from a missing cell.
    if (cell === undefined || (cell !== 'NA' && isMissing(cell))) {
      throw new Refusal(missingMessage(name, row, role, 'a level name'));
    }
    const code = seen.get(cell) ?? texts.length;
    if (code === texts.length) {
      seen.set(cell, code);
      texts.push(String(cell).trim());
    }
    codes[i] = code;
  }
  const levels = sortLevels(texts);
  const index = new Map(levels.map((level, i) => [level, i]));
  const levelOf = texts.map((text) => index.get(text) ?? 0);
  return { name, levels, codes: codes.map((code) => num(levelOf, code)) };
}

/** The given rows of a numeric column. Throws at the first cell that is no finite number. */
export function readNumbers(
  table: DataTable,
  name: string,
  rows: Int32Array,
  role: string,
): Float64Array {
  const cells = column(table, name);
  return Float64Array.from(rows, (row) => {
    const cell = cells[row];
    if (cell === undefined || isMissing(cell)) {
      throw new Refusal(missingMessage(name, row, role, 'a number'));
    }
    const value = cellNumber(cell);
    if (value === null) {
      throw new Refusal(
        `column "${name}", row ${row + 1}: found "${cell}" as ${role}; a finite number is expected`,
      );
    }
    return value;
  });
}

function missingMessage(name: string, row: number, role: string, expected: string): string {
  return (
    `column "${name}", row ${row + 1}: the ${role} is missing; ${expected} is expected ` +
    'wherever the response is present'
  );
}
