import type { PotGrid } from '../../../../shared-types/rack';
import { holeCentre, type Rect } from '../../../engine/geometry';
import { holeKey, type Piece } from '../pieces';

/** A stretch of rows and columns of a tray, of whole pots alone. */
export interface PotBlock extends Piece {
  first: { row: number; column: number };
  last: { row: number; column: number };
}

/**
 * Cuts a tray's grid into blocks of rows and columns that fit a room, mm of the rack, as large as can
 * be; a block reaches no further than its pots. `stands` tells whether a pot is in a hole; `mostRows`: a
 * block has no more. [] where the room holds no pot.
 */
export function blocksToFit(
  grid: PotGrid,
  widestMm: number,
  room: { width: number; depth: number },
  stands: (row: number, column: number) => boolean,
  mostRows = Infinity,
): PotBlock[] {
  if (room.width < widestMm || room.depth < widestMm) return [];
  const fitting = (roomMm: number, pitchMm: number) =>
    1 + Math.floor((roomMm - widestMm) / pitchMm + 1e-9);
  const rows = Math.min(mostRows, fitting(room.depth, grid.pitchYMm));
  const shifted = grid.pattern === 'staggered' && rows > 1 && grid.rows > 1;
  const across = room.width - (shifted ? grid.pitchXMm / 2 : 0);
  // Where there is no room for two rows that are out of step, they stand on blocks of their own.
  const perBlock = across < widestMm ? 1 : rows;
  const columns = fitting(across < widestMm ? room.width : across, grid.pitchXMm);
  const blocks: PotBlock[] = [];
  for (let row = 1; row <= grid.rows; row += perBlock) {
    for (let column = 1; column <= grid.columns; column += columns) {
      const last = {
        row: Math.min(grid.rows, row + perBlock - 1),
        column: Math.min(grid.columns, column + columns - 1),
      };
      const block = blockOf(grid, widestMm, { row, column }, last, stands);
      if (block) blocks.push(block);
    }
  }
  return blocks;
}

function blockOf(
  grid: PotGrid,
  widestMm: number,
  first: PotBlock['first'],
  last: PotBlock['last'],
  stands: (row: number, column: number) => boolean,
): PotBlock | null {
  const holes = new Set<string>();
  const places: { xMm: number; yMm: number }[] = [];
  for (let row = first.row; row <= last.row; row++) {
    for (let column = first.column; column <= last.column; column++) {
      if (!stands(row, column)) continue;
      holes.add(holeKey(row, column));
      places.push(holeCentre(grid, row, column));
    }
  }
  if (places.length === 0) return null;
  const xs = places.map(({ xMm }) => xMm);
  const ys = places.map(({ yMm }) => yMm);
  const rect: Rect = {
    xMm: Math.min(...xs) - widestMm / 2,
    yMm: Math.min(...ys) - widestMm / 2,
    widthMm: Math.max(...xs) - Math.min(...xs) + widestMm,
    depthMm: Math.max(...ys) - Math.min(...ys) + widestMm,
  };
  return { ...rect, holes, first, last };
}
