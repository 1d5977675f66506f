import { sameRack } from '../../../../engine/geometry';
import type { Command } from '../../../command';
import { change, shelfIn, moveTo } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Thickness of a shelf's board, between the bay below and the surface above. */
const BOARD_MM = 50;

/**
 * Puts a shelf at another place in its rack, counted from the bottom and from 0. The shelves are
 * stacked again from the lowest height up, each on its neighbour's bay, and bear the numbers of their
 * rack upwards; those of the only rack from 1.
 */
export const reorderShelf: Command<{ shelfId: string; to: number }> = {
  name: 'reorderShelf',
  label: ({ shelfId, to }, plan) =>
    `Move ${nameOf(plan, refTo('shelf', shelfId))} to place ${to + 1}`,
  run: (plan, { shelfId, to }) =>
    change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      const rack = sameRack(draft.rack.shelves, shelf);
      const stack = [...rack].sort((a, b) => a.heightMm - b.heightMm);
      const alone = rack.length === draft.rack.shelves.length;
      const numbers = rack.map(({ number }) => number).sort((a, b) => a - b);
      let heightMm = stack[0]?.heightMm ?? 0;
      moveTo(stack, stack.indexOf(shelf), to);
      stack.forEach((each, i) => {
        each.number = alone ? i + 1 : (numbers[i] ?? each.number);
        each.heightMm = heightMm;
        heightMm += each.clearanceMm + BOARD_MM;
      });
      const others = draft.rack.shelves.filter((one) => !rack.includes(one));
      draft.rack.shelves = [...others, ...stack];
    }),
};
