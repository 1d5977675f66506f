import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import { cellNumber, isMissing } from './columns';
import type { Cell } from './columns';
import { Refusal } from '../../../words';

/** The columns of a request that name groups, whatever their cells look like. */
export function categoryColumns(request: FitRequest): Set<string> {
  return new Set([
    ...request.treatments,
    ...request.fixedBlocks,
    ...request.randomUnits.flat(),
    ...(request.position?.within ?? []),
    ...(request.moran?.within ?? []),
    ...(request.redraw?.within ?? []),
    ...(request.redraw?.unit ?? []),
  ]);
}

/**
 * A table from the rows of a delimited file, header first.
 *
 * A column is numeric when every cell that is not missing is a finite number; the columns in
 * `categories` keep their text, so that `01` and `1` stay two levels. Rows without any cell
 * filled are left out. `unguard` takes off what the writer of the file put before a text so that no
 * program misreads it, the word NA among them. Throws on a repeated or empty column name and on a row of another length.
 */
export function tableFromCsvRows(
  rows: readonly (readonly string[])[],
  categories: ReadonlySet<string> = new Set(),
  unguard: (text: string) => string = (text) => text,
): DataTable {
  const [header, ...lines] = rows;
  if (!header) throw new Refusal('table: found no header line; expected column names');
  const names = header.map((name) => unguard(name.trim()));
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
      return isMissing(text) ? null : unguard(text);
    });
    const numeric =
      !categories.has(name) && cells.every((cell) => cell === null || cellNumber(cell) !== null);
    return [name, numeric ? cells.map((cell) => (cell === null ? null : Number(cell))) : cells];
  });
  return { columns: Object.fromEntries(columns), rowCount: filled.length };
}
