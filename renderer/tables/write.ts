import type { DecimalMark } from '../words';
import { guardText } from './guard';
import type { Separator } from './style';

/** Text leaves guarded, a number as a number, null as an empty cell. */
export type CellOut = string | number | null;

/** How a table is written. */
export interface TableStyle {
  separator?: Separator;
  decimal?: DecimalMark;
  /** Begin with the byte order mark, by which some programs know UTF-8. */
  byteOrderMark?: boolean;
  /** As RFC 4180 has it, or as shells like it. */
  lineEnd?: '\r\n' | '\n';
}

const BYTE_ORDER_MARK = '\uFEFF';

/**
 * Anything that a reader might take for a separator, whichever it guesses, for the end of a line or
 * for the byte order mark, and spaces that it might trim.
 */
const QUOTED = /[",;|\t\r\n\uFEFF]|^\s|\s$/;

/**
 * The one way in which tables leave the program: every text guarded (see guard.ts), quoted by
 * RFC 4180, every line ended. `parseDelimited` gives the same cells back.
 */
export function writeDelimited(
  rows: readonly (readonly CellOut[])[],
  { separator = ',', decimal = '.', byteOrderMark = false, lineEnd = '\r\n' }: TableStyle = {},
): string {
  const cellText = (cell: CellOut): string => {
    if (cell === null) return '';
    if (typeof cell === 'string') return quoted(guardText(cell), QUOTED.test(cell));
    const figure = String(cell).replace('.', decimal);
    return quoted(figure, figure.includes(separator));
  };
  const lines = rows.map((row) => row.map(cellText).join(separator));
  return (byteOrderMark ? BYTE_ORDER_MARK : '') + lines.map((line) => line + lineEnd).join('');
}

function quoted(text: string, needed: boolean): string {
  return needed ? `"${text.replace(/"/g, '""')}"` : text;
}
