import { writeDelimited, type CellOut } from '../../tables';
import type { FindingsTable } from './cells';

/** All tables in one file: a line with each table's caption, then its head and rows. RFC 4180. */
export function tablesCsv(tables: readonly FindingsTable[]): string {
  return tables.map((table) => writeDelimited([[table.caption], ...fullLines(table)])).join('\r\n');
}

/** Head and rows of a table as full figures. */
export function fullLines(table: FindingsTable): CellOut[][] {
  return [
    heads(table),
    ...table.rows.map((row) =>
      // What stands in words where others have an interval still takes both columns.
      row.flatMap(
        (cell, k) => cell.ends ?? (isInterval(table, k) ? [cell.value, null] : [cell.value]),
      ),
    ),
  ];
}

/** An interval takes two columns, one for each end. */
function heads(table: FindingsTable): string[] {
  return table.columns.flatMap((column, k) => {
    const name = column.unit ? `${column.head} (${column.unit})` : column.head;
    return isInterval(table, k) ? [`${name}, lower`, `${name}, upper`] : [name];
  });
}

function isInterval(table: FindingsTable, k: number): boolean {
  return table.rows.some((row) => row[k]?.ends !== undefined);
}
