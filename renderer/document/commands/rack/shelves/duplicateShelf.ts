import type { Command } from '../../../command';
import { change, shelfIn } from '../../../edit';
import { copyShelf } from '../../../edits/copyShelf';
import { newShelf } from '../../../new';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { sameRack } from '../../../../engine/geometry';

/** The same shelf once more on top of its rack, with trays, lamps and boards of its own. */
export const duplicateShelf: Command<{ shelfId: string }> = {
  name: 'duplicateShelf',
  label: ({ shelfId }, plan) => `Duplicate ${nameOf(plan, refTo('shelf', shelfId))}`,
  run: (plan, { shelfId }) => {
    const model = shelfIn(plan, shelfId);
    const rack = sameRack(plan.rack.shelves, model);
    const { heightMm } = newShelf('s0', rack);
    return change(plan, (draft) => {
      copyShelf(draft, model, { heightMm });
    });
  },
};
