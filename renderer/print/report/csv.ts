import { writeDelimited } from '../../tables';
import type { FindingsTable } from './cells';

/** All tables in one file: a line with each table's caption, then its head and rows. RFC 4180. */
export function tablesCsv(tables: readonly FindingsTable[]): string {
  const blocks = tables.map((table) =>
    writeDelimited([
      [table.caption],
      heads(table),
      ...table.rows.map((row) =>
        // What stands in words where others have an interval still takes both columns.
        row.flatMap(
          (cell, k) => cell.ends ?? (isInterval(table, k) ? [cell.value, null] : [cell.value]),
        ),
      ),
    ]),
  );
  return blocks.join('\r\n');
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
