import { html, type Fragment, type Html } from '../html';
import { BOLD, svgText } from '../svg';
import { mm, ptToMm } from '../text';
import { columnMm, type Column } from './rounds';

export const ROW_MM = 7.4;
export const CODE_MM = ptToMm(12);
export const TEXT_MM = ptToMm(9);
export const HEAD_LINE_MM = 3.7;

export interface SheetRow {
  code: string;
  plant: string;
  previous: string[];
  /** Begins a row of the tray: a stronger line above. */
  first: boolean;
}

/** Where a list stands on its page, mm. */
export interface ListPlace {
  x: number;
  listMm: number;
  topMm: number;
  headMm: number;
  /** Given to every cell that is written in, beyond what it needs. */
  extraMm: number;
}

export interface ListedColumns {
  columns: readonly Column[];
  /** The lines over each of them. */
  heads: readonly (readonly string[])[];
  codeMm: number;
  /** 0: no plants are named. */
  plantMm: number;
}

/** One list: heads, a line a pot, and the lines between columns. */
export function listSvg(of: ListedColumns, rows: readonly SheetRow[], at: ListPlace): Fragment {
  const bottom = at.topMm + at.headMm;
  const starts: number[] = [];
  let noteX = of.codeMm + of.plantMm;
  for (const column of of.columns) {
    starts.push(noteX);
    noteX += columnMm(column) + at.extraMm;
  }
  const end = bottom + rows.length * ROW_MM;
  return [
    headAt(0, ['Pot'], at),
    of.plantMm > 0 && headAt(of.codeMm, ['Plant'], at),
    starts.map((x, c) => headAt(x + 1, of.heads[c] ?? [], at)),
    headAt(noteX + 1, ['Note, mark'], at),
    rows.map((row, r) => rowSvg(row, bottom + r * ROW_MM, { starts, codeMm: of.codeMm }, at)),
    [...starts, noteX, at.listMm].map(
      (x) =>
        html`<path d="M${mm(at.x + x - 0.1)},${mm(bottom)}V${mm(end)}" stroke="#000" stroke-width=".2"/>`,
    ),
    html`<path d="M${mm(at.x)},${mm(end)}h${mm(at.listMm)}" stroke="#000" stroke-width=".5"/>`,
  ];
}

/** The last line stands lowest, right over the list. */
function headAt(x: number, lines: readonly string[], at: ListPlace): Fragment {
  const lowest = at.topMm + at.headMm - 1.4;
  return lines.map((line, i) =>
    textIn(
      at.x + x,
      lowest - (lines.length - 1 - i) * HEAD_LINE_MM,
      TEXT_MM,
      line,
      i === 0 ? BOLD : undefined,
    ),
  );
}

function rowSvg(
  row: SheetRow,
  y: number,
  { starts, codeMm }: { starts: readonly number[]; codeMm: number },
  { x, listMm }: ListPlace,
): Fragment {
  const line = y + ROW_MM / 2;
  return [
    html`<path d="M${mm(x)},${mm(y)}h${mm(listMm)}" stroke="#000" stroke-width="${row.first ? '.5' : '.15'}"/>`,
    textIn(x, line + CODE_MM * 0.36, CODE_MM, row.code, BOLD),
    textIn(x + codeMm, line + TEXT_MM * 0.36, TEXT_MM, row.plant),
    row.previous.map((value, c) =>
      textIn(x + (starts[c] ?? 0) + 1, line + TEXT_MM * 0.36, TEXT_MM, value, html`fill="#6b6b6b"`),
    ),
  ];
}

const textIn = (x: number, y: number, size: number, words: string, more?: Html): Fragment =>
  words === '' ? null : svgText(x, y, size, words, more);
