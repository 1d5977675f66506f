import type { Command } from '../../command';
import { change, trayIn, lampIn, tenth } from '../../edit';
import { takeIdFrom } from '../../ids';
import { freeTrayLetter } from '../../new';
import { sayThings } from '../../queries/names';
import { idsOf } from '../../queries/refs';

/** The same trays (`tray:t2`) and lamps (`lamp:l3`) once more, a little aside. */
export const duplicateItems: Command<{ items: readonly string[]; dxMm: number; dyMm: number }> = {
  name: 'duplicateItems',
  label: ({ items }, plan) => `Duplicate ${sayThings(plan, items)}`,
  run: (plan, { items, dxMm, dyMm }) =>
    change(plan, (draft) => {
      for (const id of idsOf(items, 'tray')) {
        const { shelf } = trayIn(draft, id);
        const { tray } = trayIn(plan, id);
        shelf.trays.push({
          ...tray,
          id: takeIdFrom(draft, 'tray'),
          letter: freeTrayLetter(shelf.trays),
          xMm: tenth(tray.xMm + dxMm),
          yMm: tenth(tray.yMm + dyMm),
        });
      }
      for (const id of idsOf(items, 'lamp')) {
        const { shelf } = lampIn(draft, id);
        const { lamp } = lampIn(plan, id);
        shelf.lamps.push({
          ...lamp,
          id: takeIdFrom(draft, 'lamp'),
          xMm: tenth(lamp.xMm + dxMm),
          yMm: tenth(lamp.yMm + dyMm),
        });
      }
    }),
};
