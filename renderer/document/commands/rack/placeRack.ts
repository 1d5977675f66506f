import type { RackPlace } from '../../../../shared-types/rack';
import type { Command } from '../../command';
import { change, shelfIn, tenth } from '../../edit';
import { sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** Puts shelves at a place of the room, as one rack with whatever stands there already. */
export const placeRack: Command<{ shelfIds: readonly string[]; place: RackPlace }> = {
  name: 'placeRack',
  label: ({ shelfIds }, plan) =>
    `Place ${sayThings(
      plan,
      shelfIds.map((id) => refTo('shelf', id)),
    )} in the room`,
  run: (plan, { shelfIds, place: { xMm, yMm, turnDeg } }) =>
    change(plan, (draft) => {
      for (const id of shelfIds) {
        const shelf = shelfIn(draft, id);
        const place = { xMm: tenth(xMm), yMm: tenth(yMm), turnDeg };
        if (place.xMm === 0 && place.yMm === 0 && turnDeg === 0) delete shelf.stands;
        else shelf.stands = place;
      }
    }),
};
