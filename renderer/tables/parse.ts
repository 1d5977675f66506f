import Papa from 'papaparse';
import { unguardText } from './guard';
import type { Separator } from './style';

/** A text without the byte order mark that some programs put in front. */
export function withoutMark(text: string): string {
  return text.startsWith('\uFEFF') ? text.slice(1) : text;
}

export interface ParsedLine {
  /** Line in the text where the row begins, counted from 1. */
  line: number;
  cells: string[];
  /** Columns, counted from 0, whose text is also that of other lines or columns: cells are merged. */
  merged?: readonly number[];
}

export type Parsed =
  | { ok: true; lines: ParsedLine[]; separator: Separator }
  | { ok: false; line: number | null; problem: string };

const separators: readonly Separator[] = ['\t', ';', ',', '|'];

/** Twenty thousand pots, as many as a plan holds, with fifty measurements each. */
const MOST_LINES = 1_000_000;

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
        const problem = `The table has more than ${MOST_LINES} lines; a table of one trial is expected.`;
        broken.push({ line: null, problem });
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
