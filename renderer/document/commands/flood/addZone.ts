import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import { newFlood } from '../../new';

/** Another zone, like the last one, over all trays that no zone floods yet. */
export const addZone: Command<Record<never, never>> = {
  name: 'addZone',
  label: () => 'Add flood zone',
  run: (plan) => {
    if (!plan.flood) throw new Refusal('The flooding is not being planned yet.');
    const taken = new Set(plan.flood.zones.flatMap((zone) => zone.trayIds));
    const like = plan.flood.zones.at(-1) ?? newFlood('z0', plan.rack).zones[0];
    if (!like) throw new Refusal('There is no zone to begin from.');
    return change(plan, (draft) => {
      const number = (draft.flood?.zones.length ?? 0) + 1;
      draft.flood?.zones.push({
        ...like,
        id: takeIdFrom(draft, 'zone'),
        name: `zone ${number}`,
        trayIds: plan.rack.shelves
          .flatMap((shelf) => shelf.trays.map((tray) => tray.id))
          .filter((id) => !taken.has(id)),
      });
    });
  },
};
