import type { DataTable } from '../../shared-types/fit';
import { Refusal } from '../words';
import { cellNumber, isMissing, type Cell } from './cells';
import { unguardText } from './guard';
import { isBlank, namesNothing, readNumber } from './numbers';
import type { TextTable } from './textTable';
import { writeDelimited } from './write';

/**
 * A table from the rows of a delimited file, header first, as they stand: still guarded, so that a
 * level called NA is told from a missing cell.
 *
 * A column is numeric when every cell that is not missing is a finite number; the columns in
 * `categories` keep their text, so that `01` and `1` stay two levels. Rows without any cell
 * filled are left out. Throws on a repeated or empty column name and on a row of another length.
 */
export function tableFromCsvRows(
  rows: readonly (readonly string[])[],
  categories: ReadonlySet<string> = new Set(),
): DataTable {
  const [header, ...lines] = rows;
  if (!header) throw new Refusal('table: found no header line; expected column names');
  const names = header.map((name) => unguardText(name.trim()));
  names.forEach((name, i) => {
    if (name === '') {
      throw new Refusal(`table header, column ${i + 1}: the name is empty; expected a name`);
    }
    if (names.indexOf(name) !== i) {
      throw new Refusal(`table header: column "${name}" appears twice; expected unique names`);
    }
  });
  const filled: (readonly string[])[] = [];
  lines.forEach((line, i) => {
    if (line.every((cell) => cell.trim() === '')) return;
    if (line.length !== names.length) {
      throw new Refusal(
        `table, row ${i + 1}: found ${line.length} cells; expected ${names.length} as in the header`,
      );
    }
    filled.push(line);
  });
  // By entries: an assignment to a column called `__proto__` would be lost.
  const columns = names.map((name, j): [string, Cell[]] => {
    const cells = filled.map((line) => {
      const text = (line[j] ?? '').trim();
      return isMissing(text) ? null : unguardText(text);
    });
    const numeric =
      !categories.has(name) && cells.every((cell) => cell === null || cellNumber(cell) !== null);
    return [name, numeric ? cells.map((cell) => (cell === null ? null : Number(cell))) : cells];
  });
  return { columns: Object.fromEntries(columns), rowCount: filled.length };
}

/**
 * A table that a person has read, for an analysis: cells of the columns that are `numeric` as
 * numbers where they hold one, by the table's decimal mark; missing cells are null.
 */
export function dataTableOf(
  { columns, rows, decimal }: TextTable,
  numeric: (column: number) => boolean,
): DataTable {
  const entries = columns.map((name, c): [string, Cell[]] => {
    const isNumber = numeric(c);
    const cells = rows.map((row) => {
      const cell = (row.cells[c] ?? '').trim();
      if (isNumber ? isBlank(cell) : namesNothing(cell)) return null;
      return isNumber ? (readNumber(cell, decimal) ?? cell) : cell;
    });
    return [name, cells];
  });
  return { columns: Object.fromEntries(entries), rowCount: rows.length };
}

/** The table as it was analysed, for another analysis: a line of names, then a line a row. */
export function dataTableCsv({ columns, rowCount }: DataTable): string {
  const names = Object.keys(columns);
  const rows = Array.from({ length: rowCount }, (_, i) =>
    names.map((name) => columns[name]?.[i] ?? null),
  );
  return writeDelimited([names, ...rows]);
}
