import type { Canopy } from '../../../../../shared-types/rack';
import type { Command } from '../../../command';
import { change, trayIn } from '../../../edit';
import { sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Gives trays a canopy height of their own, end by end; null: as their shelf says. */
export const setTrayCanopy: Command<{
  trayIds: readonly string[];
  canopy: Partial<Canopy> | null;
}> = {
  name: 'setTrayCanopy',
  label: ({ trayIds }, plan) => {
    const trays = sayThings(
      plan,
      trayIds.map((id) => refTo('tray', id)),
    );
    return `Set canopy height of ${trays}`;
  },
  run: (plan, { trayIds, canopy }) =>
    change(plan, (draft) => {
      for (const id of trayIds) {
        const { shelf, tray } = trayIn(draft, id);
        if (canopy === null) delete tray.canopy;
        else tray.canopy = { ...(tray.canopy ?? shelf.canopy), ...canopy };
      }
    }),
};
