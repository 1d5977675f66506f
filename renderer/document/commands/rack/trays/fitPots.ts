import { Refusal } from '../../../command';
import type { Command } from '../../../command';
import { gridIn, trayIn } from '../../../edit';
import { mostPots, spreadPots } from '../../../../engine/geometry';
import { formatLength, plural } from '../../../../words';
import { setGrid } from './setGrid';

/**
 * Gives the pots of each tray the pitch at which as many rows and columns fill it evenly; where they
 * do not fit, as many of them as do.
 */
export const fitPots: Command<{ trayIds: readonly string[] }> = {
  name: 'fitPots',
  label: ({ trayIds }) => `Fit pots to ${plural(trayIds.length, 'tray')}`,
  run: (plan, { trayIds }) =>
    trayIds.reduce((sum, trayId) => {
      const { shelf, tray } = trayIn(sum, trayId);
      const grid = gridIn(sum, trayId);
      const held = spreadPots(tray, grid) ? grid : mostPots(tray, grid);
      const spread = held && spreadPots(tray, held);
      if (!spread) {
        const size = (mm: number) => formatLength(mm, plan.display.lengths);
        throw new Refusal(
          `Not one pot of ${size(grid.potDiameterMm)} stands in tray ${shelf.number}${tray.letter}, ${size(tray.widthMm)} × ${size(tray.depthMm)}.`,
        );
      }
      return setGrid.run(sum, { trayId, grid: { ...grid, ...spread } });
    }, plan),
};
