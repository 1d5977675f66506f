import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, trayIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { placeIn, setPlaceIn } from '../../rota';
import type { TrayPlace } from '../../../../shared-types/light';

/**
 * Puts a tray in another's place for one period of the rota (counted from 0). The tray that stood
 * there takes the place that becomes free, so that every place always holds one tray.
 */
export const placeInRota: Command<{ period: number; trayId: string; place: TrayPlace }> = {
  name: 'placeInRota',
  label: ({ trayId }, plan) => `Move ${nameOf(plan, refTo('tray', trayId))} in the rota`,
  run: (plan, { period: at, trayId, place }) => {
    trayIn(plan, trayId);
    trayIn(plan, place.placeOf);
    return change(plan, (draft) => {
      const period = draft.light.rota?.[at];
      if (!period) throw new Refusal(`The rota has no period ${at + 1}.`);
      const free = placeIn(period, trayId).placeOf;
      const trays = draft.rack.shelves.flatMap((shelf) => shelf.trays.map((tray) => tray.id));
      const other = trays.find((id) => placeIn(period, id).placeOf === place.placeOf);
      if (other !== undefined && other !== trayId) {
        setPlaceIn(period, other, { ...placeIn(period, other), placeOf: free });
      }
      setPlaceIn(period, trayId, place);
    });
  },
};
