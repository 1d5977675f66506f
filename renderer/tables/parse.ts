import Papa from 'papaparse';
import { unguardText } from './guard';
import type { Separator } from './style';

/** What is said of a table without a line. */
export const EMPTY_TABLE = 'The table is empty.';

/** A text without the byte order mark that some programs put in front. */
export function withoutMark(text: string): string {
  return text.startsWith('\uFEFF') ? text.slice(1) : text;
}

/** Signs that no table in text holds: the marks of pictures, archives and workbooks. */
const BINARY = /[\u0000-\u0008\u000E-\u001A\u001C-\u001F]/;

/** How a workbook begins, as every packed file does. */
const PACKED = 'PK\u0003\u0004';

/** Why what should be a table in text is none; null: it may be one. */
export function notText(body: string): string | null {
  const stray = BINARY.exec(body);
  if (!stray) return null;
  const line = body.slice(0, stray.index).split(/\r\n|\n|\r/).length;
  const sign = (stray[0].codePointAt(0) ?? 0).toString(16).padStart(2, '0').toUpperCase();
  const expected = 'a table saved as text, such as CSV, is expected.';
  if (body.startsWith(PACKED)) return `Line ${line}: this is a workbook; ${expected}`;
  return `Line ${line}: this is a picture or another encoding, and no text (byte ${sign}); ${expected}`;
}

export interface ParsedLine {
  /** Line in the text where the row begins, counted from 1. */
  line: number;
  cells: string[];
  /** Columns, counted from 0, whose text is also that of other lines or columns: cells are merged. */
  merged?: readonly number[];
  /** Columns, counted from 0, whose cell is a number by itself, written with a decimal point. */
  exact?: readonly number[];
}

export type Parsed =
  | { ok: true; lines: ParsedLine[]; separator: Separator }
  | { ok: false; line: number | null; problem: string };

const separators: readonly Separator[] = ['\t', ';', ',', '|'];

/** Twenty thousand pots, as many as a plan holds, with fifty measurements each. */
const MOST_LINES = 1_000_000;

/** As many as a table of so many lines has, and more than one reader should have to hold. */
const MOST_CELLS = 8_000_000;

const tooMany = (most: number, what: string): string =>
  `The table has more than ${most} ${what}; a table of one trial is expected.`;

/** What of a text is built to exhaust its reader, found before it is read; null: all is well. */
function excessOf(body: string, separator: string): string | null {
  if (body.length < MOST_LINES) return null;
  if (has(body, '\n', MOST_LINES) || has(body, '\r', MOST_LINES))
    return tooMany(MOST_LINES, 'lines');
  return has(body, separator, MOST_CELLS) ? tooMany(MOST_CELLS, 'cells') : null;
}

function has(body: string, sign: string, more: number): boolean {
  let count = 0;
  for (let at = body.indexOf(sign); at >= 0; at = body.indexOf(sign, at + 1)) {
    if (++count > more) return true;
  }
  return false;
}

/** No header is longer, and an expression over millions of characters runs out of stack. */
const HEADER_LENGTH = 50_000;

/** The separator of the first line that has one; text within quotes does not count. */
function guessSeparator(text: string): Separator {
  const start = text.slice(0, HEADER_LENGTH);
  const lines = start.replace(/"[^"]*(?:"|$)/g, '').split(/[\r\n]+/);
  for (const line of lines) {
    const found = separators.find((separator) => line.includes(separator));
    if (found) return found;
  }
  return ',';
}

/**
 * The one way in which delimited tables enter: quoting by RFC 4180, any of four separators, lines
 * without any filled cell left out. With `raw` the guard of guard.ts stays on the cells, for a
 * reader that must tell the word NA from a missing value first.
 */
export function parseDelimited(
  text: string,
  {
    separator: wanted = 'auto',
    raw = false,
  }: { separator?: Separator | 'auto'; raw?: boolean } = {},
): Parsed {
  const body = withoutMark(text);
  const separator = wanted === 'auto' ? guessSeparator(body.replace(/^[\r\n]+/, '')) : wanted;
  const excess = excessOf(body, separator);
  if (excess !== null) return { ok: false, line: null, problem: excess };
  const lines: ParsedLine[] = [];
  let line = 1;
  let at = 0;
  const broken: { line: number | null; problem: string }[] = [];
  Papa.parse<string[]>(body, {
    delimiter: separator,
    step: ({ data, errors, meta }, parser) => {
      if (errors.length > 0) {
        broken.push({ line, problem: 'a quote is opened and not closed, or closed within a cell' });
      } else if (lines.length > MOST_LINES) {
        broken.push({ line: null, problem: tooMany(MOST_LINES, 'lines') });
      }
      if (broken.length > 0) {
        parser.abort();
        return;
      }
      if (data.some((cell) => cell.trim() !== '')) {
        lines.push({ line, cells: raw ? data : data.map(unguardText) });
      }
      line += body.slice(at, meta.cursor).match(/\r\n|\n|\r/g)?.length ?? 0;
      at = meta.cursor;
    },
  });
  const [fault] = broken;
  return fault ? { ok: false, ...fault } : { ok: true, lines, separator };
}
