import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, removeById } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** Removes a flood zone; its trays are flooded by none, and circuits forget its pump. */
export const removeZone: Command<{ zoneId: string }> = {
  name: 'removeZone',
  label: ({ zoneId }, plan) => `Remove ${nameOf(plan, refTo('zone', zoneId))}`,
  run: (plan, { zoneId }) =>
    change(plan, (draft) => {
      const { flood } = draft;
      if (!flood) throw new Refusal('The flooding is not being planned yet.');
      removeById(flood.zones, zoneId);
      for (const circuit of flood.circuits) {
        circuit.zoneIds = circuit.zoneIds.filter((id) => id !== zoneId);
      }
    }),
};
