import type { CellObject, Range, WorkSheet } from '@e965/xlsx';
import type { ParsedLine } from './parse';
import type { TableSheet } from './sheet';

const MOST_COLUMNS = 500;
/** As many as of a table in text. */
export const MOST_CELLS = 8_000_000;

/** What the library knows of days: which formats are of days, and which day a number is. */
export interface DayFormats {
  is_date(format: string): boolean;
  parse_date_code(serial: number): { y: number; m: number; d: number };
}

/**
 * A sheet as lines of text, `range` all that it holds: days in ISO 8601, each cell of a merged field
 * with the text of the field, lines without text left out.
 */
export function sheetOf(
  name: string,
  sheet: WorkSheet,
  range: Range,
  days: DayFormats,
): TableSheet {
  const { s, e } = range;
  const cellAt = (row: number, column: number): CellObject | undefined =>
    sheet['!data']?.[row]?.[column];
  const rows = Array.from({ length: e.r + 1 }, (_, r) =>
    Array.from({ length: Math.min(e.c + 1, MOST_COLUMNS) }, (_c, c) =>
      r < s.r || c < s.c ? '' : textOf(cellAt(r, c), days),
    ),
  );
  const merged = fillMerged(rows, sheet['!merges'] ?? []);
  const lines = rows.flatMap((cells, r): ParsedLine[] => {
    if (cells.every((text) => text === '')) return [];
    const exact = cells.flatMap((_text, c) => {
      const cell = cellAt(r, c);
      return cell?.t === 'n' && !isDay(cell, days) ? [c] : [];
    });
    const shared = [...(merged[r] ?? [])];
    return [{ line: r + 1, cells, exact, ...(shared.length > 0 ? { merged: shared } : {}) }];
  });
  return { name, lines, cutLine: null };
}

/** Whether a sheet spans, or its merged fields take up, more than a table of one trial has. */
export function isExcessive(sheet: WorkSheet, { e }: Range): boolean {
  const lines = e.r + 1;
  const cellsOf = (rows: number, columns: number) => rows * Math.min(columns, MOST_COLUMNS);
  const merged = (sheet['!merges'] ?? []).reduce(
    (sum, { s: from, e: to }) => sum + cellsOf(Math.min(to.r, e.r) - from.r + 1, to.c - from.c + 1),
    0,
  );
  return cellsOf(lines, e.c + 1) > MOST_CELLS || merged > MOST_CELLS;
}

const isDay = (cell: CellObject, days: DayFormats): boolean =>
  cell.t === 'n' && typeof cell.z === 'string' && days.is_date(cell.z);

function textOf(cell: CellObject | undefined, days: DayFormats): string {
  if (cell?.v === undefined) return '';
  if (cell.t === 'n' && typeof cell.v === 'number')
    return isDay(cell, days) ? isoDay(days.parse_date_code(cell.v)) : String(cell.v);
  return cell.t === 'e' ? (cell.w ?? '#') : String(cell.v).trim();
}

const isoDay = ({ y, m, d }: { y: number; m: number; d: number }): string =>
  [y, String(m).padStart(2, '0'), String(d).padStart(2, '0')].join('-');

/** Writes the text of each merged field into all its cells; gives the filled columns of each row. */
function fillMerged(rows: string[][], fields: readonly Range[]): Set<number>[] {
  const merged = rows.map(() => new Set<number>());
  for (const { s: from, e: to } of fields) {
    const text = rows[from.r]?.[from.c] ?? '';
    if (text === '') continue;
    const severalLines = to.r > from.r;
    for (let r = from.r; r <= Math.min(to.r, rows.length - 1); r++) {
      const row = rows[r];
      for (let c = from.c; row && c <= Math.min(to.c, row.length - 1); c++) {
        row[c] = text;
        if (severalLines || c > from.c) merged[r]?.add(c);
      }
    }
  }
  return merged;
}
