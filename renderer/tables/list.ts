import { unguardText } from './guard';
import { parseDelimited, withoutMark } from './parse';
import type { Parsed } from './parse';

/** The lines of a text, whichever ends they have. */
export function textLinesOf(text: string): string[] {
  return withoutMark(text).split(/\r\n|\n|\r/);
}

/**
 * A typed or pasted list without a header: cells are separated by tabs, or else semicolons, spaces or
 * commas, whichever comes first in this order. Lines without any filled cell are left out.
 */
export function parseList(text: string): Parsed {
  const lines = textLinesOf(text).map((line) => line.trim());
  const some = (pattern: RegExp) => lines.some((line) => pattern.test(line));
  const separator = some(/\t/) ? '\t' : some(/;/) ? ';' : ',';
  const spaced = separator === ',' && some(/\S\s+\S/);
  // Numbers alone with a decimal comma are no pairs.
  const single = separator === ',' && lines.every((line) => /^(?:[0-9]+(?:,[0-9]+)?)?$/.test(line));
  if (!spaced && !single) {
    const parsed = parseDelimited(lines.join('\n'), { separator, raw: true });
    if (!parsed.ok) return parsed;
    return { ...parsed, lines: parsed.lines.map((row) => ({ ...row, cells: plain(row.cells) })) };
  }
  const rows = lines.map((line, i) => ({
    line: i + 1,
    cells: plain(spaced ? line.split(/\s*,\s+|\s+/) : [line]),
  }));
  return { ok: true, separator, lines: rows.filter(({ cells }) => cells.some((c) => c !== '')) };
}

const plain = (cells: readonly string[]): string[] => cells.map((cell) => unguardText(cell.trim()));
