import type { ShelfBay } from '../../../../../shared-types/rack';
import { Refusal, type Command } from '../../../command';
import { change, shelfIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { baysOf } from '../../../../engine/geometry';

/** Sets the timer of a bay's lamps; null: as the light plan says for all. */
export const setBayHours: Command<{ shelfId: string; bayId: string; hours: number | null }> = {
  name: 'setBayHours',
  label: ({ bayId }, plan) => `Set timer of ${nameOf(plan, refTo('bay', bayId))}`,
  run: (plan, { shelfId, bayId, hours }) =>
    change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      const bays: ShelfBay[] = shelf.bays ?? baysOf(shelf).map(({ id }) => ({ id }));
      const bay = bays.find(({ id }) => id === bayId);
      if (!bay) throw new Refusal(`Shelf ${shelf.number} has no bay with the id ${bayId}.`);
      if (hours === null) delete bay.photoperiodHours;
      else bay.photoperiodHours = hours;
      // The only bay of a shelf is named where it has something of its own to say.
      const plain = bays.length === 1 && hours === null;
      if (plain && bayId === baysOf({ ...shelf, bays: undefined })[0].id) delete shelf.bays;
      else shelf.bays = bays;
    }),
};
