import type { Command } from '../../command';
import { boardIn, change, trayIn, lampIn, removeById, forgetWhatIsGone } from '../../edit';
import { setBoards } from '../../edits/boards';
import { sayThings } from '../../queries/names';
import { idsOf } from '../../queries/refs';

/** Takes trays (`tray:t2`), lamps (`lamp:l3`) and boards (`board:w4`) away. */
export const removeItems: Command<{ items: readonly string[] }> = {
  name: 'removeItems',
  label: ({ items }, plan) => `Remove ${sayThings(plan, items)}`,
  run: (plan, { items }) =>
    change(plan, (draft) => {
      for (const id of idsOf(items, 'tray')) removeById(trayIn(draft, id).shelf.trays, id);
      for (const id of idsOf(items, 'lamp')) removeById(lampIn(draft, id).shelf.lamps, id);
      for (const id of idsOf(items, 'board')) {
        const { shelf } = boardIn(draft, id);
        const others = (shelf.boards ?? []).filter((board) => board.id !== id);
        setBoards(draft, shelf, others);
      }
      forgetWhatIsGone(draft);
    }),
};
