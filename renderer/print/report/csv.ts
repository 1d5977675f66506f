import type { DataTable } from '../../../shared-types/fit';
import { writeDelimited } from '../../document/delimited';
import type { FindingsTable } from './cells';

/** All tables in one file: a line with each table's caption, then its head and rows. RFC 4180. */
export function tablesCsv(tables: readonly FindingsTable[]): string {
  const blocks = tables.map((table) =>
    writeDelimited([
      [table.caption],
      heads(table),
      ...table.rows.map((row) => row.flatMap((cell) => cell.ends ?? [cell.value])),
    ]),
  );
  return blocks.join('\r\n');
}

/** The table as it was analysed, for another analysis: a line of names, then a line a pot. */
export function columnsCsv({ columns, rowCount }: DataTable): string {
  const names = Object.keys(columns);
  const rows = Array.from({ length: rowCount }, (_, i) =>
    names.map((name) => columns[name]?.[i] ?? null),
  );
  return writeDelimited([names, ...rows]);
}

/** An interval takes two columns, one for each end. */
function heads(table: FindingsTable): string[] {
  return table.columns.flatMap((column, k) => {
    const name = column.unit ? `${column.head} (${column.unit})` : column.head;
    const isInterval = table.rows.some((row) => row[k]?.ends !== undefined);
    return isInterval ? [`${name}, lower`, `${name}, upper`] : [name];
  });
}
