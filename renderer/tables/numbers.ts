import { readFigure } from '../words';
import type { DecimalMark } from '../words';

export type { DecimalMark };

/** Words for a value that was not taken. */
const MISSING = new Set(['', 'na', 'n/a', '-', '–', '.', '?']);

/** A cell without a value: empty, or one of the usual signs for it. */
export function isBlank(cell: string): boolean {
  return MISSING.has(cell.trim().toLowerCase());
}

/** A cell of names without one. A dash or a dot is a name there, as + and - are. */
export function namesNothing(cell: string): boolean {
  return /^(n\/?a)?$/i.test(cell.trim());
}

/**
 * The number in a cell, or null where it holds none by this decimal mark. Units are no part of a
 * number here; a mark between thousands is, where it can be nothing else.
 */
export function readNumber(cell: string, decimal: DecimalMark): number | null {
  const figure = readFigure(cell);
  if (figure.kind === 'two') return figure.mark === decimal ? figure.asDecimal : null;
  if (figure.kind === 'none' || figure.group === decimal) return null;
  return figure.decimal === null || figure.decimal === decimal ? figure.value : null;
}

/**
 * The decimal mark that the cells of a table prove: a comma where some read as numbers only with
 * it and none only with a point; null: none tells. `1,234` and `1.234` prove nothing.
 */
export function provenDecimal(cells: Iterable<string>): DecimalMark | null {
  let comma = false;
  for (const cell of cells) {
    const figure = readFigure(cell);
    if (figure.kind !== 'one') continue;
    if (figure.decimal === '.' || figure.group === ',') return '.';
    if (figure.decimal === ',' || figure.group === '.') comma = true;
  }
  return comma ? ',' : null;
}

/** The decimal mark that the cells of a table speak for; a point where none tells. */
export function guessDecimal(cells: Iterable<string>): DecimalMark {
  return provenDecimal(cells) ?? '.';
}

/** How the numbers of a table are read. */
export interface NumberStyle {
  decimal: DecimalMark;
  /** Who says so: the person, the cells themselves, or nobody. */
  by: 'person' | 'cells' | 'nobody';
}

/** The style of a table's cells, where the person has stated none. */
export function numberStyle(stated: DecimalMark | null, cells: Iterable<string>): NumberStyle {
  if (stated !== null) return { decimal: stated, by: 'person' };
  const proven = provenDecimal(cells);
  return proven === null ? { decimal: '.', by: 'nobody' } : { decimal: proven, by: 'cells' };
}

/**
 * The number in a cell of a table; two readings where cells and person leave both open; null where
 * it holds none. `expected`: tells the reading as decimals from the other by what is known of the
 * value.
 */
export function readCell(
  cell: string,
  { decimal, by }: NumberStyle,
  expected: (asDecimal: number) => boolean,
): number | { asDecimal: number; asGrouped: number } | null {
  const figure = readFigure(cell);
  if (figure.kind !== 'two') return readNumber(cell, decimal);
  const { mark, asDecimal, asGrouped } = figure;
  if (by === 'person') return mark === decimal ? asDecimal : asGrouped;
  if (mark === decimal && (by === 'cells' || expected(asDecimal))) return asDecimal;
  return { asDecimal, asGrouped };
}
