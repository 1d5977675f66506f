import type { Command } from '../../../command';
import { change, gridIn } from '../../../edit';
import { sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Treats the outermost ring of pots as guard pots, or no longer. */
export const setGuardRing: Command<{ trayIds: readonly string[]; on: boolean }> = {
  name: 'setGuardRing',
  label: ({ trayIds, on }, plan) => {
    const trays = sayThings(
      plan,
      trayIds.map((id) => refTo('tray', id)),
    );
    return `${on ? 'Set' : 'Remove'} guard ring of ${trays}`;
  },
  run: (plan, { trayIds, on }) =>
    change(plan, (draft) => {
      for (const id of trayIds) gridIn(draft, id).guardRing = on;
    }),
};
