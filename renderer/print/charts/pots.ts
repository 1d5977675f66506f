import type { Shelf, Tray } from '../../../shared-types/rack';
import {
  boardRect,
  holeCentre,
  letterOf,
  potsOfTray,
  widestPotMm,
  type Pot,
  type Rect,
} from '../../engine/geometry';
import { html, type Fragment } from '../html';
import type { ShownPot, ShownTreatment } from '../shown';
import { ptToMm } from '../text';
import { markSizeMm } from '../treatmentMark';
import { CUT_LINE, emptyHole, tickBox, type Sign } from './key';
import { blockBorders } from './blocks';
import { extentOfTray } from './extent';
import { holeKey, reach, type Piece } from './pieces';
import type { Placing } from './placing';
import { plantedPot, rim, unplantedPot } from './potDisc';
import { textAt } from './textAt';

const HEADING_MM = ptToMm(9);
/** Beside a row, where the pots are too small for a box each. */
const ROW_BOX_MM = 5;

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
  if (!grid) return { svg: null, signs: new Set(), counts: new Map() };
  const piece = look.part?.piece;
  const widest = widestPotMm(tray);
  const standsIn = ({ row, column }: Hole): Standing => {
    if (!piece || piece.holes.has(holeKey(row, column))) return 'whole';
    return reach(holeCentre(grid, row, column), widest, piece) === 'outside' ? 'outside' : 'cut';
  };
  const signs = new Set<Sign>();
  const counts = new Map<ShownTreatment, number>();
  const parts: Fragment[] = [];
  const blockOf = new Map<string, string>();
  const pots = potsOfTray(shelf, tray);
  for (const pot of pots) {
    const stands = standsIn(pot);
    if (stands === 'outside') continue;
    const centre = holeCentre(grid, pot.row, pot.column);
    const disc = {
      x: at.x(centre.xMm),
      y: at.y(centre.yMm),
      radius: (pot.diameterMm / 2) * at.scale,
    };
    if (stands === 'cut') {
      signs.add('cut');
      parts.push(rim(disc, html`${CUT_LINE} clip-path="url(#${look.part?.clipId ?? ''})"`));
      continue;
    }
    const place = look.shown.get(pot.id) ?? null;
    const drawn = place ? plantedPot(pot, place, disc) : unplantedPot(pot, disc);
    if (drawn.sign) signs.add(drawn.sign);
    if (place && place.block !== null) blockOf.set(holeKey(pot.row, pot.column), place.block);
    if (place?.treatment) counts.set(place.treatment, (counts.get(place.treatment) ?? 0) + 1);
    parts.push(html`<g data-pot="${pot.code}">${drawn.svg}</g>`);
  }
  const empty = emptyHoles(shelf, tray, pots).filter((hole) => standsIn(hole) === 'whole');
  if (empty.length > 0) signs.add('empty');
  for (const { row, column } of empty) {
    const centre = holeCentre(grid, row, column);
    const radius = Math.min(2.5, grid.potDiameterMm * 0.25 * at.scale);
    parts.push(emptyHole(at.x(centre.xMm), at.y(centre.yMm), radius));
  }
  const borders = blockBorders(tray, at, blockOf);
  if (borders) signs.add('block');
  const rowTicks = look.headings.rowTicks && !signs.has('tick');
  if (rowTicks) signs.add('row-tick');
  const named = { ...look, headings: { ...look.headings, rowTicks } };
  return { svg: [borders, parts, headings(shelf, tray, at, named)], signs, counts };
}

interface Hole {
  row: number;
  column: number;
}

/** How much of a pot is on the piece that is drawn. */
type Standing = 'whole' | 'cut' | 'outside';

/** Holes in which no pot stands, but for those that a board hides: it is what they were lost to. */
function emptyHoles(shelf: Shelf, tray: Tray, pots: readonly Pot[]): Hole[] {
  const { grid } = tray;
  if (!grid) return [];
  const taken = new Set(pots.map(({ row, column }) => holeKey(row, column)));
  const boards = (shelf.boards ?? []).map((board) => boardRect(shelf, board));
  const holes = Array.from({ length: grid.rows * grid.columns }, (_, i): Hole => ({
    row: Math.floor(i / grid.columns) + 1,
    column: (i % grid.columns) + 1,
  }));
  return holes.filter(({ row, column }) => {
    if (taken.has(holeKey(row, column))) return false;
    const centre = holeCentre(grid, row, column);
    return !boards.some((rect) => holds(rect, tray.xMm + centre.xMm, tray.yMm + centre.yMm));
  });
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
    if (look.headings.rowTicks && rowStride === 1) {
      const box = Math.min(ROW_BOX_MM, grid.pitchYMm * at.scale - 0.8);
      parts.push(tickBox(right + 1, y - box / 2, box));
    }
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
