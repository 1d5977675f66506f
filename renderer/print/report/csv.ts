import type { DataTable } from '../../../shared-types/fit';
import type { FindingsTable } from './cells';

/** All tables in one file: a line with each table's caption, then its head and rows. RFC 4180. */
export function tablesCsv(tables: readonly FindingsTable[]): string {
  const blocks = tables.map((table) =>
    [
      line([table.caption]),
      line(heads(table)),
      ...table.rows.map((row) => line(row.flatMap((cell) => cell.ends ?? [cell.value]))),
    ].join('\r\n'),
  );
  return `${blocks.join('\r\n\r\n')}\r\n`;
}

/** The table as it was analysed, for another analysis: a line of names, then a line a pot. */
export function columnsCsv({ columns, rowCount }: DataTable): string {
  const names = Object.keys(columns);
  const rows = Array.from({ length: rowCount }, (_, i) =>
    line(names.map((name) => columns[name]?.[i] ?? null)),
  );
  return `${[line(names), ...rows].join('\r\n')}\r\n`;
}

/** An interval takes two columns, one for each end. */
function heads(table: FindingsTable): string[] {
  return table.columns.flatMap((column, k) => {
    const name = column.unit ? `${column.head} (${column.unit})` : column.head;
    const isInterval = table.rows.some((row) => row[k]?.ends !== undefined);
    return isInterval ? [`${name}, lower`, `${name}, upper`] : [name];
  });
}

function line(cells: readonly (string | number | null)[]): string {
  return cells.map(cellText).join(',');
}

function cellText(cell: string | number | null): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  // A text that a spreadsheet would take for a formula gets an apostrophe before it.
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}
