import type { Command } from '../../../command';
import { change } from '../../../edit';
import { takeIdFrom } from '../../../ids';
import { newShelf } from '../../../new';
import type { Shelf } from '../../../../../shared-types/rack';

/** A shelf on top of the others, with the stated figures instead of the usual ones. */
export const addShelf: Command<{ shelf?: Partial<Omit<Shelf, 'id' | 'trays' | 'lamps'>> }> = {
  name: 'addShelf',
  label: ({ shelf }, plan) =>
    `Add shelf ${shelf?.number ?? newShelf('s0', plan.rack.shelves).number}`,
  run: (plan, { shelf = {} }) =>
    change(plan, (draft) => {
      const id = takeIdFrom(draft, 'shelf');
      draft.rack.shelves.push({ ...newShelf(id, draft.rack.shelves), ...shelf });
    }),
};
