import { sameRack, shelfAtHeight } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import type { Shelf } from '../../../../shared-types/rack';
import type { Command } from '../../command';
import { boardIn, change, trayIn, lampIn, shelfIn, tenth } from '../../edit';
import { copyBoard, copyLamp, copyTray } from '../../edits/copyItems';
import { sayThings } from '../../queries/names';
import { idsOf } from '../../queries/refs';

/**
 * The same trays (`tray:t2`), lamps (`lamp:l3`) and boards (`board:w4`) once more, a little aside; where `dzMm` takes
 * them into the bay of another shelf they stand or hang there. A tray always stands on its shelf.
 */
export const duplicateItems: Command<{
  items: readonly string[];
  dxMm: number;
  dyMm: number;
  dzMm?: number;
}> = {
  name: 'duplicateItems',
  label: ({ items }, plan) => `Duplicate ${sayThings(plan, items)}`,
  run: (plan, { items, dxMm, dyMm, dzMm = 0 }) =>
    change(plan, (draft) => {
      for (const id of idsOf(items, 'tray')) {
        const { shelf: from, tray } = trayIn(plan, id);
        const to = shelfIn(draft, shelfFor(plan, from, tray.rimHeightMm / 2, dzMm).id);
        copyTray(draft, to, tray, { xMm: tenth(tray.xMm + dxMm), yMm: tenth(tray.yMm + dyMm) });
      }
      for (const id of idsOf(items, 'board')) {
        const { shelf: from, board } = boardIn(plan, id);
        const to = shelfIn(draft, shelfFor(plan, from, from.clearanceMm / 2, dzMm).id);
        const by = board.direction === 'across' ? dxMm : dyMm;
        copyBoard(draft, to, board, { atMm: tenth(board.atMm + by) });
      }
      for (const id of idsOf(items, 'lamp')) {
        const { shelf: from, lamp } = lampIn(plan, id);
        const over = shelfFor(plan, from, lamp.zMm, dzMm);
        copyLamp(draft, { from, to: shelfIn(draft, over.id) }, lamp, {
          xMm: tenth(lamp.xMm + dxMm),
          yMm: tenth(lamp.yMm + dyMm),
          // Between a bay and the shelf above it there is nothing to hang a lamp in.
          zMm: tenth(from.heightMm + lamp.zMm + dzMm - over.heightMm),
        });
      }
    }),
};

/** The shelf that a thing comes to when it is lifted, from its height over its own shelf. */
function shelfFor(plan: Plan, from: Shelf, overMm: number, dzMm: number): Shelf {
  if (dzMm === 0) return from;
  const rack = sameRack(plan.rack.shelves, from);
  const [lowest] = [...rack].sort((a, b) => a.heightMm - b.heightMm);
  return shelfAtHeight(rack, from.heightMm + overMm + dzMm) ?? lowest ?? from;
}
