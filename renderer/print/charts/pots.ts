import type { Shelf, Tray } from '../../../shared-types/rack';
import {
  boardRect,
  holeCentre,
  letterOf,
  potsOfTray,
  widestPotMm,
  type Rect,
} from '../../engine/geometry';
import { html, type Fragment, type Html } from '../html';
import type { ShownPot, ShownTreatment } from '../shown';
import { svgText } from '../svg';
import { mm, ptToMm, textWidthMm } from '../text';
import { markSizeMm, treatmentMark } from '../treatmentMark';
import { CUT_LINE, emptyHole, GUARD_LINE, OUTSIDE_LINE, tickBox, type Sign } from './key';
import { extentOfTray } from './extent';
import { holeKey, reach, type Piece } from './pieces';
import type { Placing } from './placing';

const CODE_MM = ptToMm(8);
const HEADING_MM = ptToMm(9);
const TICK_MM = 2.8;

export interface PotsLook {
  shown: ReadonlyMap<string, ShownPot>;
  /** The piece of the tray on this page, from the tray's corner, and what clips it; null: all. */
  part: { piece: Piece; clipId: string } | null;
  /** Where to write row letters and column numbers, and tick boxes for rows. */
  headings: { rows: boolean; columns: boolean; rowTicks: boolean };
}

/** A drawing and the signs that its key has to explain. */
export interface Drawing {
  svg: Fragment;
  signs: ReadonlySet<Sign>;
  /** How many pots of each treatment are on it. */
  counts: ReadonlyMap<ShownTreatment, number>;
}

/** The pots of one tray as they are planted. `at` places the tray's own corner. */
export function drawPots(shelf: Shelf, tray: Tray, at: Placing, look: PotsLook): Drawing {
  const { grid } = tray;
  const signs = new Set<Sign>();
  const counts = new Map<ShownTreatment, number>();
  const piece = look.part?.piece;
  if (!grid) return { svg: null, signs, counts };
  const widest = widestPotMm(tray);
  const standsIn = (row: number, column: number) => {
    if (!piece || piece.holes.has(holeKey(row, column))) return 'whole';
    const on = reach(holeCentre(grid, row, column), widest, piece);
    return on === 'outside' ? 'outside' : 'cut';
  };
  const boards = (shelf.boards ?? []).map((board) => boardRect(shelf, board));
  const parts: Fragment[] = [];
  const standing = new Set<string>();
  for (const pot of potsOfTray(shelf, tray)) {
    standing.add(holeKey(pot.row, pot.column));
    const centre = holeCentre(grid, pot.row, pot.column);
    const stands = standsIn(pot.row, pot.column);
    if (stands === 'outside') continue;
    const [x, y] = [at.x(centre.xMm), at.y(centre.yMm)];
    const radius = (pot.diameterMm / 2) * at.scale;
    const rim = (style: Html) =>
      html`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" ${style}/>`;
    if (stands === 'cut') {
      signs.add('cut');
      parts.push(rim(html`${CUT_LINE} clip-path="url(#${look.part?.clipId ?? ''})"`));
      continue;
    }
    const whole = (svg: Fragment) => parts.push(html`<g data-pot="${pot.code}">${svg}</g>`);
    const place = look.shown.get(pot.id);
    if (!place) {
      signs.add(pot.guard ? 'guard' : 'outside');
      const named = pot.guard && textWidthMm('guard', CODE_MM) <= 1.8 * radius;
      whole([
        rim(pot.guard ? GUARD_LINE : OUTSIDE_LINE),
        named && textAt(x, y + CODE_MM * 0.3, CODE_MM, 'guard'),
      ]);
      continue;
    }
    if (place.treatment) counts.set(place.treatment, (counts.get(place.treatment) ?? 0) + 1);
    const hole = pot.code.slice(pot.code.indexOf('-') + 1);
    const codes = place.plant ? [place.plant, hole] : [hole];
    const ticked = place.treatment
      ? treatedPot(place.treatment, codes, { x, y, radius })
      : plainPot(codes, { x, y, radius });
    if (ticked.tick) signs.add('tick');
    whole(ticked.svg);
  }
  for (let row = 1; row <= grid.rows; row++) {
    for (let column = 1; column <= grid.columns; column++) {
      if (standing.has(holeKey(row, column)) || standsIn(row, column) !== 'whole') continue;
      const centre = holeCentre(grid, row, column);
      // A board hides the hole that it cost.
      if (boards.some((rect) => holds(rect, tray.xMm + centre.xMm, tray.yMm + centre.yMm)))
        continue;
      signs.add('empty');
      const radius = Math.min(2.5, grid.potDiameterMm * 0.25 * at.scale);
      parts.push(emptyHole(at.x(centre.xMm), at.y(centre.yMm), radius));
    }
  }
  const rowTicks = look.headings.rowTicks && !signs.has('tick');
  if (rowTicks) signs.add('row-tick');
  const named = { ...look, headings: { ...look.headings, rowTicks } };
  return { svg: [parts, headings(shelf, tray, at, named)], signs, counts };
}

const holds = (rect: Rect, xMm: number, yMm: number): boolean =>
  xMm >= rect.xMm &&
  xMm <= rect.xMm + rect.widthMm &&
  yMm >= rect.yMm &&
  yMm <= rect.yMm + rect.depthMm;

/** Type size of the letters on this tray's pots at a scale, mm. */
export function letterSizeMm(shelf: Shelf, tray: Tray, scale: number, signs: number): number {
  const narrowest = Math.min(...potsOfTray(shelf, tray).map(({ diameterMm }) => diameterMm));
  return Number.isFinite(narrowest) ? markSizeMm((narrowest / 2) * scale, signs) : 0;
}

interface Disc {
  x: number;
  y: number;
  radius: number;
}

/** Mark above, and below it code and tick box where the pot is large enough for type of 8 pt. */
function treatedPot(
  treatment: { look: number; mark: string },
  codes: readonly string[],
  { x, y, radius }: Disc,
): { svg: Fragment; tick: boolean } {
  const rim = html`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="#fff" stroke="#000" stroke-width=".25"/>`;
  const lineY = y + radius * 0.62;
  const line = codeLine(codes, x, lineY, radius * 0.62, radius);
  if (!line) {
    return { svg: treatmentMark(treatment, { x, y, radius: radius * 0.97 }), tick: false };
  }
  const above = (radius + radius * 0.62 - line.height / 2 - 0.3) / 2;
  const disc = { x, y: y - radius + above, radius: above - 0.35 };
  return { svg: [rim, treatmentMark(treatment, disc), line.svg], tick: true };
}

/** A pot without a treatment: its code, and a tick box where there is room. */
function plainPot(
  codes: readonly string[],
  { x, y, radius }: Disc,
): { svg: Fragment; tick: boolean } {
  const rim = html`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="#fff" stroke="#000" stroke-width=".25"/>`;
  const line = codeLine(codes, x, y, 0, radius);
  return { svg: [rim, line?.svg ?? null], tick: line !== null };
}

/**
 * A code (the first for which the pot is wide enough there) and a tick box side by side around a
 * middle.
 */
function codeLine(
  codes: readonly string[],
  x: number,
  y: number,
  belowCentre: number,
  radius: number,
): { svg: Fragment; height: number } | null {
  const reach = belowCentre + TICK_MM / 2;
  if (reach >= radius) return null;
  const chord = 2 * Math.sqrt(radius ** 2 - reach ** 2) - 0.6;
  // The mark above has to keep the size that is read at arm's length.
  if (belowCentre > 0 && radius < 6) return null;
  const code = codes.find((text) => textWidthMm(text, CODE_MM) + 1 + TICK_MM <= chord);
  if (code !== undefined) {
    const codeWidth = textWidthMm(code, CODE_MM);
    const left = x - (codeWidth + 1 + TICK_MM) / 2;
    return {
      svg: [
        svgText(left, y + CODE_MM * 0.36, CODE_MM, code),
        tickBox(left + codeWidth + 1, y - TICK_MM / 2, TICK_MM),
      ],
      height: TICK_MM,
    };
  }
  if (TICK_MM > chord) return null;
  return { svg: tickBox(x - TICK_MM / 2, y - TICK_MM / 2, TICK_MM), height: TICK_MM };
}

/** Row letters and column numbers along the tray's sides, on the left and below as on the page. */
function headings(shelf: Shelf, tray: Tray, at: Placing, look: PotsLook): Fragment {
  const { grid } = tray;
  if (!grid) return null;
  // Clear of pots that reach over the tray's sides.
  const piece = look.part?.piece ?? extentOfTray(shelf, tray);
  const sides = [at.x(piece.xMm), at.x(piece.xMm + piece.widthMm)];
  const left = Math.min(...sides);
  const right = Math.max(...sides);
  const bottom = Math.max(at.y(piece.yMm), at.y(piece.yMm + piece.depthMm));
  const parts: Fragment[] = [];
  const inY = (y: number) => y >= piece.yMm && y <= piece.yMm + piece.depthMm;
  const inX = (x: number) => x >= piece.xMm && x <= piece.xMm + piece.widthMm;
  const rowStride = strideOf(grid.pitchYMm * at.scale, 3.6);
  for (let row = 1; row <= grid.rows; row++) {
    const { yMm } = holeCentre(grid, row, 1);
    if (!inY(yMm)) continue;
    const y = at.y(yMm);
    if (look.headings.rows && (row - 1) % rowStride === 0) {
      parts.push(textAt(left - 2.2, y + HEADING_MM * 0.36, HEADING_MM, letterOf(row), 700));
    }
    if (look.headings.rowTicks && rowStride === 1) parts.push(tickBox(right + 1, y - 1.4, 2.8));
  }
  if (!look.headings.columns) return parts;
  const stride = strideOf(grid.pitchXMm * at.scale, grid.columns > 99 ? 6.4 : 4.6);
  for (let column = 1; column <= grid.columns; column++) {
    const { xMm } = holeCentre(grid, 1, column);
    if (!inX(xMm) || (column !== 1 && column % stride !== 0)) continue;
    parts.push(textAt(at.x(xMm), bottom + 3.8, HEADING_MM, String(column), 700));
  }
  return parts;
}

/** Every how many rows or columns are named, so that the names do not touch: 1, 2, 5, 10… */
function strideOf(pitch: number, needed: number): number {
  const steps = [1, 2, 5, 10, 20, 50, 100];
  return steps.find((step) => step * pitch >= needed) ?? 200;
}

export function textAt(x: number, y: number, size: number, text: string, weight = 400): Html {
  return html`<text x="${mm(x)}" y="${mm(y)}" font-size="${mm(size)}" font-weight="${weight}" text-anchor="middle" ${HALO}>${text}</text>`;
}

/** White around type, so that it reads where it crosses a line. */
const HALO = html`stroke="#fff" stroke-width=".9" paint-order="stroke"`;
