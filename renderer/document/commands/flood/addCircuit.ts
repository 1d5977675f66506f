import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';

/** A circuit of 16 A at 230 V that carries every lamp and pump on no other circuit. */
export const addCircuit: Command<Record<never, never>> = {
  name: 'addCircuit',
  label: () => 'Add circuit',
  run: (plan) => {
    const { flood } = plan;
    if (!flood) throw new Refusal('The flooding is not being planned yet.');
    const wired = new Set(flood.circuits.flatMap((c) => [...c.shelfIds, ...c.zoneIds]));
    const free = (ids: string[]) => ids.filter((id) => !wired.has(id));
    return change(plan, (draft) => {
      draft.flood?.circuits.push({
        id: takeIdFrom(draft, 'circuit'),
        name: `circuit ${flood.circuits.length + 1}`,
        breakerA: 16,
        voltageV: 230,
        powerFactor: 0.95,
        shelfIds: free(plan.rack.shelves.map((shelf) => shelf.id)),
        zoneIds: free(flood.zones.map((zone) => zone.id)),
        otherW: 0,
      });
    });
  },
};
