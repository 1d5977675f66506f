import type { Command } from '../../../command';
import { change, shelfIn, removeById, forgetWhatIsGone } from '../../../edit';
import { sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Takes shelves away with all that stands or hangs on them. */
export const removeShelves: Command<{ shelfIds: readonly string[] }> = {
  name: 'removeShelves',
  label: ({ shelfIds }, plan) =>
    `Remove ${sayThings(
      plan,
      shelfIds.map((id) => refTo('shelf', id)),
    )}`,
  run: (plan, { shelfIds }) =>
    change(plan, (draft) => {
      for (const id of shelfIds) {
        shelfIn(draft, id);
        removeById(draft.rack.shelves, id);
      }
      forgetWhatIsGone(draft);
    }),
};
