import type { Command } from '../../command';
import { change, trayIn, lampIn, removeById, forgetWhatIsGone } from '../../edit';
import { sayThings } from '../../queries/names';
import { idsOf } from '../../queries/refs';

/** Takes trays (`tray:t2`) and lamps (`lamp:l3`) away. */
export const removeItems: Command<{ items: readonly string[] }> = {
  name: 'removeItems',
  label: ({ items }, plan) => `Remove ${sayThings(plan, items)}`,
  run: (plan, { items }) =>
    change(plan, (draft) => {
      for (const id of idsOf(items, 'tray')) removeById(trayIn(draft, id).shelf.trays, id);
      for (const id of idsOf(items, 'lamp')) removeById(lampIn(draft, id).shelf.lamps, id);
      forgetWhatIsGone(draft);
    }),
};
