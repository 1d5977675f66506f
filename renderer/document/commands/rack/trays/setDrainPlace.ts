import type { DrainPlace } from '../../../../../shared-types/landmarks';
import type { Command } from '../../../command';
import { change, trayIn } from '../../../edit';
import { sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Says where trays drain, for whoever reads a chart at the rack; null: not said. */
export const setDrainPlace: Command<{ trayIds: readonly string[]; place: DrainPlace | null }> = {
  name: 'setDrainPlace',
  label: ({ trayIds }, plan) => {
    const trays = trayIds.map((id) => refTo('tray', id));
    return `Place the drain of ${sayThings(plan, trays)}`;
  },
  run: (plan, { trayIds, place }) =>
    change(plan, (draft) => {
      for (const id of trayIds) {
        const { tray } = trayIn(draft, id);
        if (place === null) delete tray.drainPlace;
        else tray.drainPlace = place;
      }
    }),
};
