import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import { newFlood } from '../../new';

/** A first flood zone over all trays, with a usual pump, standpipe and schedule. */
export const startFlood: Command<Record<never, never>> = {
  name: 'startFlood',
  label: () => 'Start planning the flooding',
  run: (plan) => {
    if (plan.flood) throw new Refusal('The flooding is being planned already.');
    return change(plan, (draft) => {
      draft.flood = newFlood(takeIdFrom(draft, 'zone'), plan.rack);
    });
  },
};
