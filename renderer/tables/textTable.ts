import { guessDecimal, type DecimalMark } from './numbers';
import { EMPTY_TABLE, notText, parseDelimited, withoutMark, type ParsedLine } from './parse';
import type { Separator } from './style';

/** A delimited or pasted table, header first. Every row has one cell for every column. */
export interface TextTable {
  columns: string[];
  rows: ParsedLine[];
  separator: Separator;
  decimal: DecimalMark;
  /** The person said which decimal mark it is; else it is guessed from all cells. */
  decimalStated: boolean;
  /** The last line, where it ends before its last column and without a line end; else null. */
  cutLine: number | null;
}

export type ReadTable = { ok: true; table: TextTable } | { ok: false; problem: string };

export const separatorNames: Record<Separator, string> = {
  '\t': 'tab',
  ';': 'semicolon',
  ',': 'comma',
  '|': 'bar',
};

/**
 * Reads CSV or what a spreadsheet puts on the clipboard: quoting by RFC 4180, any of four
 * separators, point or comma as decimal mark.
 * Lines without any filled cell are left out. A line with more cells than the header, an empty or
 * repeated column name, an open quote and what is no text are problems that name the line; shorter
 * lines are filled with empty cells.
 */
export function readTable(
  text: string,
  options: { separator?: Separator | 'auto'; decimal?: DecimalMark | 'auto' } = {},
): ReadTable {
  const body = withoutMark(text);
  const stray = notText(body);
  if (stray !== null) return { ok: false, problem: stray };
  if (body.trim() === '') return { ok: false, problem: EMPTY_TABLE };
  const { separator: wanted = 'auto', decimal: mark = 'auto' } = options;
  const parsed = parseDelimited(body, { separator: wanted });
  if (!parsed.ok) {
    const { line, problem } = parsed;
    return { ok: false, problem: line === null ? problem : `Line ${line}: ${problem}.` };
  }
  const { lines, separator } = parsed;
  const [header, ...rows] = lines;
  if (!header) return { ok: false, problem: EMPTY_TABLE };

  const columns = header.cells.map((name) => name.trim());
  while (columns.at(-1) === '') columns.pop();
  const fault = faultOfColumns(columns);
  if (fault !== null) return { ok: false, problem: `Line ${header.line}: ${fault}` };
  const last = rows.at(-1);
  const short = last !== undefined && last.cells.length < columns.length;
  const cutLine = short && !/[\r\n]$/.test(body) ? last.line : null;
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
  const decimalStated = mark !== 'auto';
  return { ok: true, table: { columns, rows, separator, decimal, decimalStated, cutLine } };
}

function faultOfColumns(columns: readonly string[]): string | null {
  const empty = columns.indexOf('');
  if (empty >= 0) return `column ${empty + 1} has no name.`;
  const plain = columns.map((name) => name.toLowerCase());
  const twice = columns.find((_name, i) => plain.indexOf(plain[i] ?? '') !== i);
  return twice === undefined ? null : `the column ${twice} appears twice.`;
}
