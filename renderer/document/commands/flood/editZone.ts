import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { FloodZone } from '../../../../shared-types/flood';

/** Edits a flood zone. Trays given to it are taken from the zones that flooded them before. */
export const editZone: Command<{ zoneId: string; patch: Partial<Omit<FloodZone, 'id'>> }> = {
  name: 'editZone',
  label: ({ zoneId }, plan) => `Edit ${nameOf(plan, refTo('zone', zoneId))}`,
  run: (plan, { zoneId, patch }) =>
    change(plan, (draft) => {
      const zone = draft.flood?.zones.find((z) => z.id === zoneId);
      if (!zone) throw new Refusal(`The plan has no flood zone with the id ${zoneId}.`);
      for (const other of draft.flood?.zones ?? []) {
        if (!patch.trayIds || other === zone) continue;
        other.trayIds = other.trayIds.filter((id) => !patch.trayIds?.includes(id));
      }
      Object.assign(zone, patch);
    }),
};
