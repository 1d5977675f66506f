import type { Command } from '../../../command';
import { change, trayIn, forgetWhatIsGone } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { holesInside } from '../../../edits/holes';
import type { PotGrid } from '../../../../../shared-types/rack';

/** Puts pots into a tray, changes how they stand, or takes them all out (null). */
export const setGrid: Command<{ trayId: string; grid: PotGrid | null }> = {
  name: 'setGrid',
  label: ({ trayId, grid }, plan) =>
    `${grid ? 'Set' : 'Remove'} pots of ${nameOf(plan, refTo('tray', trayId))}`,
  run: (plan, { trayId, grid }) =>
    change(plan, (draft) => {
      trayIn(draft, trayId).tray.grid = grid && {
        ...grid,
        guards: holesInside(grid, grid.guards),
        empty: holesInside(grid, grid.empty),
      };
      forgetWhatIsGone(draft);
    }),
};
