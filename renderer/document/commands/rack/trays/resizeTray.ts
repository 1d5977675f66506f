import type { Command } from '../../../command';
import { change, trayIn, tenth, forgetWhatIsGone } from '../../../edit';
import { newGrid } from '../../../new';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { holesInside } from '../../../edits/holes';

/**
 * Gives a tray another outline. With `refitGrid` as many of its pots as fit stand in it again,
 * else the grid keeps its rows and columns.
 */
export const resizeTray: Command<{
  trayId: string;
  xMm: number;
  yMm: number;
  widthMm: number;
  depthMm: number;
  refitGrid: boolean;
}> = {
  name: 'resizeTray',
  label: ({ trayId }, plan) => `Resize ${nameOf(plan, refTo('tray', trayId))}`,
  run: (plan, { trayId, refitGrid, ...outline }) =>
    change(plan, (draft) => {
      const { tray } = trayIn(draft, trayId);
      tray.xMm = tenth(outline.xMm);
      tray.yMm = tenth(outline.yMm);
      tray.widthMm = tenth(outline.widthMm);
      tray.depthMm = tenth(outline.depthMm);
      if (!refitGrid || !tray.grid) return;
      const { guardRing, guards, empty } = tray.grid;
      const grid = { ...newGrid(tray, tray.grid), guardRing };
      tray.grid = {
        ...grid,
        guards: holesInside(grid, guards),
        empty: holesInside(grid, empty),
      };
      forgetWhatIsGone(draft);
    }),
};
