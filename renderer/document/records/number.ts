/** How a table writes its decimals. */
export type DecimalMark = '.' | ',';

/** Words for a value that was not taken. */
const MISSING = new Set(['', 'na', 'n/a', '-', '–', '.', '?']);

/** A cell without a value: empty, or one of the usual signs for it. */
export function isBlank(cell: string): boolean {
  return MISSING.has(cell.trim().toLowerCase());
}

/**
 * The number in a cell, or null where it holds none. Thousands separators and units are no part of
 * a number here: a cell with them is reported, never guessed at.
 */
export function readNumber(cell: string, decimal: DecimalMark): number | null {
  const text = cell.trim().replace('\u2212', '-');
  const plain = decimal === ',' ? text.replace(',', '.') : text;
  if (decimal === ',' && text.includes('.')) return null;
  if (!/^[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}

/**
 * The decimal mark that the cells of a table speak for: a comma where some read as numbers only
 * with it and none only with a point; a point otherwise.
 */
export function guessDecimal(cells: Iterable<string>): DecimalMark {
  let comma = false;
  for (const cell of cells) {
    if (/^\s*[+-]?[0-9]*\.[0-9]+\s*$/.test(cell)) return '.';
    if (/^\s*[+-]?[0-9]*,[0-9]+\s*$/.test(cell)) comma = true;
  }
  return comma ? ',' : '.';
}
