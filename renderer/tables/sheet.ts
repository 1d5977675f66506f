import { EMPTY_TABLE, notText, parseDelimited, type ParsedLine } from './parse';
import type { Separator } from './style';

/** A sheet of a workbook, or a text table as a sheet of its own. Lines without any filled cell are left out. */
export interface TableSheet {
  name: string;
  /** Texts as written; numbers with a decimal point; days as ISO 8601. */
  lines: ParsedLine[];
  /** Text: how its columns are separated. */
  separator?: Separator;
  /** The last line, where the text ends within it; else null. */
  cutLine: number | null;
}

export type ReadSheets = { ok: true; sheets: TableSheet[] } | { ok: false; problem: string };

/** Reads CSV or what a spreadsheet puts on the clipboard as a sheet; quoting by RFC 4180. */
export function sheetOfText(text: string, separator: Separator | 'auto' = 'auto'): ReadSheets {
  const stray = notText(text);
  if (stray !== null) return { ok: false, problem: stray };
  const parsed = parseDelimited(text, { separator });
  if (!parsed.ok) {
    const { line, problem } = parsed;
    return { ok: false, problem: line === null ? problem : `Line ${line}: ${problem}.` };
  }
  const { lines } = parsed;
  if (lines.length === 0) return { ok: false, problem: EMPTY_TABLE };
  const widest = lines.reduce((most, { cells }) => Math.max(most, cells.length), 0);
  const last = lines.at(-1);
  const short = last !== undefined && last.cells.length < widest && !/[\r\n]$/.test(text);
  const cutLine = short && lines.length > 1 ? last.line : null;
  return { ok: true, sheets: [{ name: '', lines, separator: parsed.separator, cutLine }] };
}

/** How spreadsheets name a cell: `B7`. Column counted from 0, line from 1. */
export function cellName(column: number, line: number): string {
  let letters = '';
  for (let rest = column + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  }
  return `${letters}${line}`;
}
