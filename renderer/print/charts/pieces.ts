import type { PotGrid } from '../../../shared-types/rack';
import { holeCentre, rectsOverlap, type Rect } from '../../engine/geometry';
import { cutsBetween } from './cuts';

/** A part of a tray that a page shows, from the tray's corner, and the holes it shows whole. */
export interface Piece extends Rect {
  /** `row:column`. Every hole is in one piece alone, though pieces may overlap. */
  holes: ReadonlySet<string>;
}

export function holeKey(row: number, column: number): string {
  return `${row}:${column}`;
}

/**
 * Cuts what a tray takes up into pieces that a page has room for (mm of the rack), from the front
 * left. Throws where the room is no wider than one pot.
 */
export function piecesOf(
  { grid, widestMm, tray, extent }: { grid: PotGrid; widestMm: number; tray: Rect; extent: Rect },
  room: { width: number; depth: number },
): Piece[] {
  const holes = Array.from({ length: grid.rows }, (_, r) =>
    Array.from({ length: grid.columns }, (_, c) => ({
      key: holeKey(r + 1, c + 1),
      ...holeCentre(grid, r + 1, c + 1),
    })),
  ).flat();
  const across = cutsBetween(
    { from: extent.xMm, to: extent.xMm + extent.widthMm },
    room.width,
    holes.map(({ xMm }) => xMm),
    widestMm,
  );
  const down = cutsBetween(
    { from: extent.yMm, to: extent.yMm + extent.depthMm },
    room.depth,
    holes.map(({ yMm }) => yMm),
    widestMm,
  );
  const rects = down.flatMap((y) =>
    across.map((x) => ({
      xMm: x.from,
      yMm: y.from,
      widthMm: x.to - x.from,
      depthMm: y.to - y.from,
    })),
  );
  const shown = rects.map(() => new Set<string>());
  for (const hole of holes) {
    const home = rects.findIndex((rect) => reach(hole, widestMm, rect) === 'whole');
    shown[home]?.add(hole.key);
  }
  // Beside a tray there may be nothing at all between pots that stand far out.
  return rects
    .map((rect, i) => ({ ...rect, holes: shown[i] ?? new Set<string>() }))
    .filter((piece) => piece.holes.size > 0 || rectsOverlap(piece, tray));
}

/** How much of a pot lies in a rectangle. */
export function reach(
  centre: { xMm: number; yMm: number },
  diameterMm: number,
  rect: Rect,
): 'whole' | 'cut' | 'outside' {
  const inside = (margin: number) =>
    centre.xMm - margin >= rect.xMm - 1e-6 &&
    centre.xMm + margin <= rect.xMm + rect.widthMm + 1e-6 &&
    centre.yMm - margin >= rect.yMm - 1e-6 &&
    centre.yMm + margin <= rect.yMm + rect.depthMm + 1e-6;
  if (inside(diameterMm / 2)) return 'whole';
  return inside(-diameterMm / 2) ? 'cut' : 'outside';
}
