import { letterOf, trayCode } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import type { Tray } from '../../../../shared-types/rack';
import type { ParsedLine, TableSheet } from '../../../tables';
import { plural } from '../../../words';
import { markIn } from '../marks';
import { numberAndUnit } from '../unitFactor';

/** One tray of a sheet that shows each tray as it stands on the rack. */
export interface TrayBlock {
  tray: string;
  /** Line and column, counted from 0 among the sheet's, of the cell that names it; -1: the sheet's name does. */
  at: number;
  nameColumn: number;
  /** The place among the sheet's lines of the numbers of the columns; null: they are not written. */
  numbersAt: number | null;
  /** The number of each column, by where it stands. */
  columnOf: Map<number, number>;
  /** The rows of pots, from the top of the sheet: letter and place among the lines. */
  rows: { letter: string; at: number }[];
}

/** Values below the name of a tray that are more or fewer than it has rows and columns. */
export interface TrayMisfit {
  tray: string;
  line: number;
  found: string;
}

const ROW = /^(?:row|reihe)?\s*([A-Z]{1,2}|\d{1,2})$/i;

/**
 * The trays that a sheet shows, by their names. Without row letters or column numbers a block is read
 * as the tray is seen from above, its back row on top, where it has as many lines and columns as the
 * tray; where not, it is a misfit.
 */
export function trayBlocks(
  plan: Plan,
  { lines, name }: Pick<TableSheet, 'lines' | 'name'>,
): { blocks: TrayBlock[]; misfits: TrayMisfit[] } {
  const trays = new Map(
    plan.rack.shelves.flatMap((shelf) =>
      shelf.trays.map((tray) => [trayCode(shelf.number, tray.letter), tray] as const),
    ),
  );
  const trayIn = (text: string): string | null => {
    const [, code = ''] = /(?:^|\s)0*(\d+\s*-?[A-Z]{1,2})(?=$|[\s,;:(–-])/i.exec(text.trim()) ?? [];
    const plain = code.toUpperCase().replace(/[\s-]/g, '');
    return trays.has(plain) ? plain : null;
  };
  const named = lines.flatMap(({ cells }, at) => {
    const names = cells.flatMap((cell, column) => {
      const tray = trayIn(cell);
      return tray === null ? [] : [{ tray, at, column, until: Infinity }];
    });
    return names.map((one, i) => ({ ...one, until: names[i + 1]?.column ?? Infinity }));
  });
  const ofSheet = trayIn(name);
  if (named.length === 0 && ofSheet !== null) {
    named.push({ tray: ofSheet, at: -1, column: 0, until: Infinity });
  }
  const read = (indent: number | null) =>
    named.map(({ tray, at, column, until }) => {
      const block = blockBelow(lines, at, column);
      const span = { from: column, until, indent };
      const bare = block ? null : bareBelow(lines, at, span, trays.get(tray));
      return { tray, at, nameColumn: column, found: block ?? bare };
    });
  // Where whole blocks all begin at one distance from their names, so do those with empty edges.
  const first = read(null);
  const indents = new Set(
    first.flatMap(({ nameColumn, found }) =>
      found && 'rows' in found && found.numbersAt === null
        ? [Math.min(...found.columnOf.keys()) - nameColumn]
        : [],
    ),
  );
  const [indent = null] = indents.size === 1 ? indents : [];
  const blocks: TrayBlock[] = [];
  const misfits: TrayMisfit[] = [];
  for (const { found, ...named } of indent === null ? first : read(indent)) {
    if (found && 'rows' in found) blocks.push({ ...named, ...found });
    else if (found) misfits.push({ tray: named.tray, ...found });
  }
  return { blocks, misfits };
}

type Below = Pick<TrayBlock, 'numbersAt' | 'columnOf' | 'rows'>;

/** The numbers of columns stand in the line of the tray's name or within three below it. */
function blockBelow(lines: readonly ParsedLine[], at: number, nameColumn: number): Below | null {
  for (let numbersAt = Math.max(0, at); numbersAt <= at + 3; numbersAt++) {
    const columnOf = columnNumbers(lines[numbersAt]?.cells ?? [], nameColumn);
    const [first] = columnOf.keys();
    if (first === undefined || first === 0 || columnOf.size < 2) continue;
    // Beside the letter of a row stand values, however they count.
    if (rowLetter(lines[numbersAt]?.cells[first - 1] ?? '') !== null) continue;
    const rows: TrayBlock['rows'] = [];
    for (let next = numbersAt + 1; next < lines.length; next++) {
      const letter = rowLetter(lines[next]?.cells[first - 1] ?? '');
      if (letter === null || rows.some((row) => row.letter === letter)) break;
      rows.push({ letter, at: next });
    }
    if (rows.length > 0) return { numbersAt, columnOf, rows };
  }
  return null;
}

/** Where a block may stand: from its name's column to the next; `indent`: from the name to its first pot. */
interface Span {
  from: number;
  until: number;
  indent: number | null;
}

/** A block whose rows or columns are not named, below the name of its tray. */
function bareBelow(
  lines: readonly ParsedLine[],
  at: number,
  span: Span,
  tray: Tray | undefined,
): Below | Omit<TrayMisfit, 'tray'> | null {
  const grid = tray?.grid;
  const begins = firstOfValues(lines, at, span);
  if (!grid || begins === null) return null;
  const numbers = columnNumbers(lines[begins]?.cells ?? [], span.from);
  const first = Math.min(...numbers.keys());
  // A line that counts its columns is no line of values; where it is, the block fits without it.
  const counted =
    numbers.size === grid.columns ? valuesFrom(lines, begins + 1, { ...span, from: first }) : null;
  if (counted && counted.lines.length === grid.rows && counted.first >= first) {
    return { numbersAt: begins, columnOf: numbers, rows: rowsOf(counted, grid.rows) };
  }
  const found = valuesFrom(lines, begins, span);
  const begun = found.lettered ? found.first : span.from + (span.indent ?? NaN);
  const padded = begun <= found.first && found.last < begun + grid.columns;
  const start = padded ? begun : found.first;
  const columns = padded ? grid.columns : found.last - found.first + 1;
  if (found.lines.length < 2 || columns < 2) return null;
  if (found.lines.length !== grid.rows || columns !== grid.columns) {
    const has = `${plural(found.lines.length, 'line')} of ${plural(columns, 'value')}`;
    const found_ = `holds ${has}, the tray has ${plural(grid.rows, 'row')} of ${plural(grid.columns, 'pot')}`;
    return { line: lines[begins]?.line ?? 0, found: found_ };
  }
  const columnOf = new Map(Array.from({ length: columns }, (_, i) => [start + i, i + 1] as const));
  return { numbersAt: null, columnOf, rows: rowsOf(found, grid.rows) };
}

/** Lines of values beneath each other, with the letters of their rows where they are written. */
interface Values {
  lines: { at: number; letter: string | null }[];
  /** The first and last column with a value. */
  first: number;
  last: number;
  /** Each line begins with the letter of its row, so that the first column is known. */
  lettered: boolean;
}

const rowsOf = ({ lines }: Values, rows: number): TrayBlock['rows'] =>
  lines.map(({ at, letter }, i) => ({ at, letter: letter ?? letterOf(rows - i) }));

/** The first line of values below a name; between the two may stand what they are, one cell a line. */
function firstOfValues(
  lines: readonly ParsedLine[],
  at: number,
  span: Omit<Span, 'indent'>,
): number | null {
  for (let next = at + 1; next <= at + 3 && next < lines.length; next++) {
    const filled = (lines[next]?.cells ?? [])
      .slice(span.from, span.until)
      .filter((text) => text.trim() !== '');
    if (filled.length > 1) return filled.slice(1).every(isValue) ? next : null;
  }
  return null;
}

function valuesFrom(
  lines: readonly ParsedLine[],
  begins: number,
  { from, until }: Omit<Span, 'indent'>,
): Values {
  const taken: { at: number; lead: string; first: number; second: number; last: number }[] = [];
  for (let at = begins; at < lines.length; at++) {
    const line = lines[at];
    const before = lines[at - 1];
    // Lines without any filled cell are left out of a sheet, and end a block.
    if (!line || (at > begins && line.line !== (before?.line ?? 0) + 1)) break;
    const filled = line.cells.flatMap((text, column) =>
      column >= from && column < until && text.trim() !== '' ? [{ text, column }] : [],
    );
    const [lead, second] = filled;
    const last = filled.at(-1);
    if (!lead || !last) break;
    if (!isValue(lead.text) && rowLetter(lead.text) === null) break;
    if (!filled.slice(1).every(({ text }) => isValue(text))) break;
    const after = second?.column ?? lead.column;
    taken.push({ at, lead: lead.text, first: lead.column, second: after, last: last.column });
  }
  const letters = taken.map(({ lead }) => (/^\d/.test(lead.trim()) ? null : rowLetter(lead)));
  const lettered =
    letters.length > 0 &&
    letters.every((letter) => letter !== null) &&
    new Set(letters).size === letters.length;
  const column = Math.max(...taken.map(({ first }) => first));
  return {
    lines: taken.map(({ at }, i) => ({ at, letter: lettered ? (letters[i] ?? null) : null })),
    first: lettered ? column + 1 : Math.min(...taken.map(({ first }) => first)),
    last: Math.max(...taken.map(({ last }) => last)),
    lettered,
  };
}

const isValue = (text: string): boolean =>
  numberAndUnit(text.trim()).digits !== '' || markIn(text) !== null || /^[-–—]$/.test(text.trim());

/** Whole numbers side by side that go up or down by one, from the name's column on. */
function columnNumbers(cells: readonly string[], from: number): Map<number, number> {
  const found = new Map<number, number>();
  let before: number | null = null;
  for (let c = from; c < cells.length; c++) {
    const text = cells[c]?.trim() ?? '';
    const number = /^\d{1,3}$/.test(text) ? Number(text) : null;
    if (number === null || (before !== null && Math.abs(number - before) !== 1)) {
      if (found.size > 0) break;
      continue;
    }
    found.set(c, number);
    before = number;
  }
  return found;
}

function rowLetter(text: string): string | null {
  const [, found] = ROW.exec(text.trim()) ?? [];
  if (found === undefined) return null;
  return /^\d+$/.test(found) ? letterOf(Number(found)) : found.toUpperCase();
}
