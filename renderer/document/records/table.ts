import Papa from 'papaparse';
import { guessDecimal } from './number';
import type { DecimalMark } from './number';

export type Separator = ',' | ';' | '\t' | '|';

/** A delimited or pasted table, header first. Every row has one cell for every column. */
export interface TextTable {
  columns: string[];
  rows: TableRow[];
  separator: Separator;
  decimal: DecimalMark;
}

export interface TableRow {
  /** Line in the text where the row begins, counted from 1. */
  line: number;
  cells: string[];
}

export type ReadTable = { ok: true; table: TextTable } | { ok: false; problem: string };

const separators: readonly Separator[] = ['\t', ';', ',', '|'];
export const separatorNames: Record<Separator, string> = {
  '\t': 'tab',
  ';': 'semicolon',
  ',': 'comma',
  '|': 'bar',
};

/** No header is longer, and an expression over millions of characters runs out of stack. */
const HEADER_LENGTH = 50_000;

/** The separator of the header line; text within quotes does not count. */
function guessSeparator(text: string): Separator {
  const start = text.slice(0, HEADER_LENGTH);
  const header = /^(?:[^"\r\n]|"[^"]*")*/.exec(start)?.[0] ?? '';
  const bare = header.replace(/"[^"]*"/g, '');
  return separators.find((separator) => bare.includes(separator)) ?? ',';
}

/**
 * Reads CSV or what a spreadsheet puts on the clipboard: quoting by RFC 4180, any of four
 * separators, point or comma as decimal mark. Lines without any filled cell are left out. A line
 * with more cells than the header, an empty or repeated column name and an open quote are problems
 * that name the line; shorter lines are filled with empty cells.
 */
export function readTable(
  text: string,
  options: { separator?: Separator | 'auto'; decimal?: DecimalMark | 'auto' } = {},
): ReadTable {
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (body.trim() === '') return { ok: false, problem: 'The table is empty.' };
  const { separator: wanted = 'auto', decimal: mark = 'auto' } = options;
  const separator = wanted === 'auto' ? guessSeparator(body.replace(/^[\r\n]+/, '')) : wanted;

  const lines: TableRow[] = [];
  let line = 1;
  let at = 0;
  let broken: string | null = null;
  Papa.parse<string[]>(body, {
    delimiter: separator,
    step: ({ data, errors, meta }) => {
      const [error] = errors;
      if (error && broken === null) {
        broken = `Line ${line}: a quote is opened and not closed, or closed within a cell.`;
      }
      if (data.some((cell) => cell.trim() !== '')) lines.push({ line, cells: data });
      line += body.slice(at, meta.cursor).match(/\r\n|\n|\r/g)?.length ?? 0;
      at = meta.cursor;
    },
  });
  if (broken !== null) return { ok: false, problem: broken };
  const [header, ...rows] = lines;
  if (!header) return { ok: false, problem: 'The table is empty.' };

  const columns = header.cells.map((name) => name.trim());
  while (columns.at(-1) === '') columns.pop();
  const fault = faultOfColumns(columns);
  if (fault !== null) return { ok: false, problem: `Line ${header.line}: ${fault}` };
  for (const row of rows) {
    const extra = row.cells.slice(columns.length).find((cell) => cell.trim() !== '');
    if (extra !== undefined) {
      return {
        ok: false,
        problem:
          `Line ${row.line}: found ${row.cells.length} cells, expected ${columns.length} ` +
          `as in the header (separated by ${separatorNames[separator]}).`,
      };
    }
    row.cells = columns.map((_name, i) => row.cells[i] ?? '');
  }
  const decimal = mark === 'auto' ? guessDecimal(rows.flatMap((row) => row.cells)) : mark;
  return { ok: true, table: { columns, rows, separator, decimal } };
}

function faultOfColumns(columns: readonly string[]): string | null {
  const empty = columns.indexOf('');
  if (empty >= 0) return `column ${empty + 1} has no name.`;
  const plain = columns.map((name) => name.toLowerCase());
  const twice = columns.find((_name, i) => plain.indexOf(plain[i] ?? '') !== i);
  return twice === undefined ? null : `the column ${twice} appears twice.`;
}
