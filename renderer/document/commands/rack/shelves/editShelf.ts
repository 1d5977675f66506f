import type { Command } from '../../../command';
import { change, shelfIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import type { Shelf } from '../../../../../shared-types/rack';

export const editShelf: Command<{
  shelfId: string;
  patch: Partial<Omit<Shelf, 'id' | 'trays' | 'lamps' | 'boards' | 'bays'>>;
}> = {
  name: 'editShelf',
  label: ({ shelfId }, plan) => `Edit ${nameOf(plan, refTo('shelf', shelfId))}`,
  run: (plan, { shelfId, patch }) =>
    change(plan, (draft) => {
      Object.assign(shelfIn(draft, shelfId), patch);
    }),
};
