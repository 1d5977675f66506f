import { html, type Html } from '../html';
import type { Shown } from '../shown';
import { svgDrawing, svgText } from '../svg';
import { mm, ptToMm, textWidthMm, wrapText } from '../text';
import { treatmentMark } from '../treatmentMark';
import { BLOCK_LINE } from './blocks';
import { boardMark } from './boards';
import { drainMark, leadMark, type Landmark } from './landmarks';

/** Marks beside those of the treatments; a key explains those that its page uses. */
export type Sign = 'tick' | 'row-tick' | 'guard' | 'outside' | 'empty' | 'block' | 'cut' | Landmark;

const SIGN_WORDS: Record<Sign, string> = {
  tick: 'tick when planted',
  'row-tick': 'tick when the row is planted',
  guard: 'guard pot',
  outside: 'pot outside the trial',
  empty: 'empty hole',
  block: 'border of a block',
  cut: 'whole on another sheet',
  board: 'board between bays',
  drain: 'drain of the tray',
  lead: 'lead of a lamp',
};

interface Item {
  draw: (x: number, y: number) => Html;
  lines: string[];
}

export interface ChartKey {
  /** Each row's items and height. */
  rows: { items: Item[]; heightMm: number }[];
  columnMm: number;
  heightMm: number;
}

const TYPE_MM = ptToMm(9);
const LINE_MM = 3.9;
const DISC_MM = 3.1;
const TEXT_X_MM = 8;

/** Letter, pattern and levels of every treatment, and what the other marks mean. */
export function chartKeyOf(shown: Shown, signs: readonly Sign[], widthMm: number): ChartKey {
  const names = [
    ...shown.treatments.map(({ name }) => name),
    ...signs.map((sign) => SIGN_WORDS[sign]),
  ];
  const draws = [
    ...shown.treatments.map(
      (treatment) => (x: number, y: number) => treatmentMark(treatment, { x, y, radius: DISC_MM }),
    ),
    ...signs.map((sign) => (x: number, y: number) => signMark(sign, x, y)),
  ];
  const longest = Math.max(0, ...names.map((name) => textWidthMm(name, TYPE_MM)));
  let best: ChartKey | null = null;
  for (let columns = 1; columns <= 8; columns++) {
    const columnMm = widthMm / columns;
    const textMm = columnMm - TEXT_X_MM - 3;
    // More columns than the longest name needs only pull the key apart.
    if (columns > 1 && textMm < Math.min(longest, 38)) break;
    const items = draws.map((draw, i) => ({
      draw,
      lines: wrapText(names[i] ?? '', TYPE_MM, textMm),
    }));
    const rows: ChartKey['rows'] = [];
    for (let from = 0; from < items.length; from += columns) {
      const row = items.slice(from, from + columns);
      const most = Math.max(...row.map(({ lines }) => lines.length));
      rows.push({ items: row, heightMm: Math.max(6.8, most * LINE_MM + 1.2) });
    }
    const heightMm = rows.reduce((sum, row) => sum + row.heightMm, 0);
    if (!best || heightMm < best.heightMm) best = { rows, columnMm, heightMm };
  }
  return best ?? { rows: [], columnMm: widthMm, heightMm: 0 };
}

/** Rows of a key as one drawing. */
export function keySvg(key: ChartKey, rows = key.rows): Html | null {
  if (rows.length === 0) return null;
  const width = Math.max(...rows.map((row) => row.items.length)) * key.columnMm;
  const height = rows.reduce((sum, row) => sum + row.heightMm, 0);
  let y = 0;
  const parts = rows.flatMap((row) => {
    const middle = y + row.heightMm / 2;
    y += row.heightMm;
    return row.items.map(({ draw, lines }, column) => {
      const x = column * key.columnMm;
      const first = middle - ((lines.length - 1) * LINE_MM) / 2 + TYPE_MM * 0.35;
      return [
        draw(x + DISC_MM + 0.3, middle),
        lines.map((line, i) => svgText(x + TEXT_X_MM, first + i * LINE_MM, TYPE_MM, line)),
      ];
    });
  });
  return svgDrawing({ width, height }, 'Key', parts);
}

function signMark(sign: Sign, x: number, y: number): Html {
  const at = html`cx="${mm(x)}" cy="${mm(y)}"`;
  switch (sign) {
    case 'tick':
    case 'row-tick':
      return tickBox(x - 1.5, y - 1.5, 3);
    case 'guard':
      return html`<circle ${at} r="2.8" ${GUARD_LINE}/>`;
    case 'outside':
      return html`<circle ${at} r="2.8" ${OUTSIDE_LINE}/>`;
    case 'empty':
      return emptyHole(x, y, 1.4);
    case 'block':
      return html`<path d="M${mm(x - 2.8)},${mm(y)}h5.8" ${BLOCK_LINE}/>`;
    case 'cut':
      return html`<path d="M${mm(x)},${mm(y - 2.8)}a2.8,2.8 0 0 0 0,5.6" ${CUT_LINE}/>`;
    case 'board':
      return boardMark({ left: x - 2.8, top: y - 0.6, width: 5.6, height: 1.2 });
    case 'drain':
      return drainMark(x, y);
    case 'lead':
      return leadMark(x, y, 'right');
  }
}

export const GUARD_LINE = html`fill="none" stroke="#000" stroke-width=".25" stroke-dasharray="1 .8"`;
export const OUTSIDE_LINE = html`fill="none" stroke="#000" stroke-width=".25"`;
export const CUT_LINE = html`fill="none" stroke="#777" stroke-width=".25"`;

export function tickBox(x: number, y: number, side: number): Html {
  return html`<rect x="${mm(x)}" y="${mm(y)}" width="${mm(side)}" height="${mm(side)}" fill="#fff" stroke="#000" stroke-width=".25"/>`;
}

/** A small cross: nothing stands here. */
export function emptyHole(x: number, y: number, half: number): Html {
  return html`<path d="M${mm(x - half)},${mm(y - half)}l${mm(2 * half)},${mm(2 * half)}m0,${mm(-2 * half)}l${mm(-2 * half)},${mm(2 * half)}" fill="none" stroke="#555" stroke-width=".25"/>`;
}
