import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import type { Medium } from '../../../../shared-types/flood';

/** Adds a medium that the pots of some trays are filled with. */
export const addMedium: Command<{ medium: Omit<Medium, 'id'> }> = {
  name: 'addMedium',
  label: ({ medium }) => `Add medium ${medium.name}`,
  run: (plan, { medium }) => {
    if (!plan.flood) throw new Refusal('The flooding is not being planned yet.');
    return change(plan, (draft) => {
      const id = takeIdFrom(draft, 'medium');
      draft.flood?.media.push({ ...medium, id, name: medium.name.trim() });
    });
  },
};
