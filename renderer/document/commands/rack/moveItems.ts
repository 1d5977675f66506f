import type { Command } from '../../command';
import { boardIn, change, trayIn, lampIn, tenth } from '../../edit';
import { setBoards } from '../../edits/boards';
import { sayThings } from '../../queries/names';
import { idsOf } from '../../queries/refs';

/**
 * Moves trays (`tray:t2`) and lamps (`lamp:l3`) over their shelves, and boards (`board:w4`) from side
 * to side; height is for lamps alone.
 */
export const moveItems: Command<{
  items: readonly string[];
  dxMm: number;
  dyMm: number;
  dzMm?: number;
}> = {
  name: 'moveItems',
  label: ({ items }, plan) => `Move ${sayThings(plan, items)}`,
  run: (plan, { items, dxMm, dyMm, dzMm = 0 }) =>
    change(plan, (draft) => {
      const trays = idsOf(items, 'tray').map((id) => trayIn(draft, id).tray);
      const lamps = idsOf(items, 'lamp').map((id) => lampIn(draft, id).lamp);
      for (const item of [...trays, ...lamps]) {
        item.xMm = tenth(item.xMm + dxMm);
        item.yMm = tenth(item.yMm + dyMm);
      }
      for (const id of idsOf(items, 'board')) {
        const { shelf, board } = boardIn(draft, id);
        const byMm = board.direction === 'across' ? dxMm : dyMm;
        const atMm = tenth(board.atMm + byMm);
        const boards = (shelf.boards ?? []).map((b) => (b.id === id ? { ...b, atMm } : b));
        setBoards(draft, shelf, boards);
      }
      for (const lamp of lamps) lamp.zMm = Math.max(0, tenth(lamp.zMm + dzMm));
    }),
};
