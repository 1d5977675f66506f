import type { RackPlace } from '../../../../shared-types/rack';
import type { Command } from '../../command';
import { change, shelfIn, tenth } from '../../edit';
import { copyShelf } from '../../edits/copyShelf';
import { sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** Shelves once more as a rack of their own at a place of the room. */
export const duplicateRack: Command<{ shelfIds: readonly string[]; place: RackPlace }> = {
  name: 'duplicateRack',
  label: ({ shelfIds }, plan) =>
    `Duplicate ${sayThings(
      plan,
      shelfIds.map((id) => refTo('shelf', id)),
    )} as a rack`,
  run: (plan, { shelfIds, place }) =>
    change(plan, (draft) => {
      const stands = { ...place, xMm: tenth(place.xMm), yMm: tenth(place.yMm) };
      for (const id of shelfIds) copyShelf(draft, shelfIn(plan, id), { stands });
    }),
};
