import type { Tray } from '../../../shared-types/rack';
import { holeCentre } from '../../engine/geometry';
import { html, type Html } from '../html';
import { mm } from '../text';
import { holeKey } from './pieces';
import type { Placing } from './placing';

/** Heavy and in long dashes, so that it is no side of a tray and no cut. */
export const BLOCK_LINE = html`fill="none" stroke="#000" stroke-width=".7" stroke-dasharray="2.4 1"`;

/**
 * The borders between pots of different blocks, midway between them; null where the tray shows one
 * block alone. `blockOf` tells the block of the pot in a hole (`row:column`); undefined: none.
 */
export function blockBorders(
  { grid }: Tray,
  at: Placing,
  blockOf: ReadonlyMap<string, string>,
): Html | null {
  if (!grid || new Set(blockOf.values()).size < 2) return null;
  const [halfX, halfY] = [grid.pitchXMm / 2, grid.pitchYMm / 2];
  const centres = [...blockOf].map(([key, block]) => {
    const [row = 0, column = 0] = key.split(':').map(Number);
    return { row, column, block, ...holeCentre(grid, row, column) };
  });
  let d = '';
  const line = (x1: number, y1: number, x2: number, y2: number) => {
    d += `M${mm(at.x(x1))},${mm(at.y(y1))}L${mm(at.x(x2))},${mm(at.y(y2))}`;
  };
  for (const { row, column, block, xMm, yMm } of centres) {
    const beside = blockOf.get(holeKey(row, column + 1));
    if (beside !== undefined && beside !== block) {
      line(xMm + halfX, yMm - halfY, xMm + halfX, yMm + halfY);
    }
    for (const next of [column - 1, column, column + 1]) {
      const behind = blockOf.get(holeKey(row + 1, next));
      if (behind === undefined || behind === block) continue;
      // Staggered rows share a part of their width with two neighbours.
      const other = holeCentre(grid, row + 1, next);
      const from = Math.max(xMm, other.xMm) - halfX;
      const to = Math.min(xMm, other.xMm) + halfX;
      if (to - from > 1e-6) line(from, yMm + halfY, to, yMm + halfY);
    }
  }
  return d === '' ? null : html`<path class="blocks" d="${d}" ${BLOCK_LINE}/>`;
}
