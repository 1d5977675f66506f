import { upwardsByRack } from '../../../../engine/geometry';
import type { Command } from '../../../command';
import { change } from '../../../edit';

/** Numbers the shelves from 1, rack by rack, the lowest first. */
export const renumberShelves: Command<Record<never, never>> = {
  name: 'renumberShelves',
  label: () => 'Number shelves from the lowest',
  run: (plan) =>
    change(plan, (draft) => {
      draft.rack.shelves = upwardsByRack(draft.rack.shelves);
      draft.rack.shelves.forEach((shelf, i) => {
        shelf.number = i + 1;
      });
    }),
};
