import type { Command } from '../../command';
import { change, shelfIn, faceNoneThatIsGone } from '../../edit';
import { takeIdFrom } from '../../ids';
import { newShelf } from '../../new';
import { copyOfBays } from '../../edits/boards';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** The same shelf once more on top of the rack, with trays, lamps and boards of its own. */
export const duplicateShelf: Command<{ shelfId: string }> = {
  name: 'duplicateShelf',
  label: ({ shelfId }, plan) => `Duplicate ${nameOf(plan, refTo('shelf', shelfId))}`,
  run: (plan, { shelfId }) => {
    const model = shelfIn(plan, shelfId);
    return change(plan, (draft) => {
      const shelf = newShelf(takeIdFrom(draft, 'shelf'), plan.rack.shelves);
      const faces = { ...model.faces };
      // Another shelf faces the one that was copied, not its copy.
      faceNoneThatIsGone(faces, new Set());
      draft.rack.shelves.push({
        ...model,
        id: shelf.id,
        number: shelf.number,
        heightMm: shelf.heightMm,
        ...(model.faces && { faces }),
        trays: model.trays.map((tray) => ({ ...tray, id: takeIdFrom(draft, 'tray') })),
        ...copyOfBays(draft, model),
        lamps: model.lamps.map((lamp) => ({
          ...lamp,
          id: takeIdFrom(draft, 'lamp'),
          group: lamp.group === `shelf ${model.number}` ? `shelf ${shelf.number}` : lamp.group,
        })),
      });
    });
  },
};
