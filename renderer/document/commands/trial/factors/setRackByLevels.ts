import { rackAsTreated } from '../../../../engine/treated';
import type { HungShelf } from '../../../../engine/lamps';
import { Refusal } from '../../../command';
import type { Command } from '../../../command';
import { change, factorIn } from '../../../edit';
import { takeIdFrom } from '../../../ids';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/**
 * Draws lamps, timers, depths and schedules as the levels of a factor fixed by hand set them. Media
 * stay: a tray's is for the pots that have no level.
 */
export const setRackByLevels: Command<{ factorId: string }> = {
  name: 'setRackByLevels',
  label: ({ factorId }, plan) => `Set the rack as ${nameOf(plan, refTo('factor', factorId))} says`,
  run: (plan, { factorId }) => {
    const factor = factorIn(plan, factorId);
    if (factor.kind !== 'fixed') {
      throw new Refusal(
        `${factor.name} is shuffled, so its levels stand where the draw puts them.`,
      );
    }
    const { rack, flood } = plan;
    const treated = rackAsTreated(
      { rack, flood, factors: [factor], assignments: [] },
      { as: 'treated' },
    );
    const zones = treated.flood?.zones;
    if (treated.rack === rack && (!flood || zones === flood.zones)) return plan;
    return change(plan, (draft) => {
      draft.rack.shelves = treated.rack.shelves.map(({ drawn: _, ...shelf }: HungShelf, s) => ({
        ...shelf,
        lamps: shelf.lamps.map((lamp) =>
          rack.shelves[s]?.lamps.some(({ id }) => id === lamp.id)
            ? lamp
            : { ...lamp, id: takeIdFrom(draft, 'lamp') },
        ),
      }));
      if (draft.flood && zones) draft.flood.zones = zones;
    });
  },
};
