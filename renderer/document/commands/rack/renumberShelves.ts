import type { Command } from '../../command';
import { change } from '../../edit';

/** Numbers the shelves from 1, the lowest first. */
export const renumberShelves: Command<Record<never, never>> = {
  name: 'renumberShelves',
  label: () => 'Number shelves from the lowest',
  run: (plan) =>
    change(plan, (draft) => {
      draft.rack.shelves.sort((a, b) => a.heightMm - b.heightMm);
      draft.rack.shelves.forEach((shelf, i) => {
        shelf.number = i + 1;
      });
    }),
};
