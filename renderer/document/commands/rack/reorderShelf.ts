import type { Command } from '../../command';
import { change, shelfIn, moveTo } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** Thickness of a shelf's board, between the bay below and the surface above. */
const BOARD_MM = 50;

/**
 * Puts a shelf at another place in the rack, counted from the bottom and from 0. The shelves are
 * stacked again from the lowest height up, each on its neighbour's bay, and numbered from 1.
 */
export const reorderShelf: Command<{ shelfId: string; to: number }> = {
  name: 'reorderShelf',
  label: ({ shelfId, to }, plan) =>
    `Move ${nameOf(plan, refTo('shelf', shelfId))} to place ${to + 1}`,
  run: (plan, { shelfId, to }) =>
    change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      const stack = [...draft.rack.shelves].sort((a, b) => a.heightMm - b.heightMm);
      let heightMm = stack[0]?.heightMm ?? 0;
      moveTo(stack, stack.indexOf(shelf), to);
      stack.forEach((each, i) => {
        each.number = i + 1;
        each.heightMm = heightMm;
        heightMm += each.clearanceMm + BOARD_MM;
      });
      draft.rack.shelves = stack;
    }),
};
