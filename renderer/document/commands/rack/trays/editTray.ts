import { Refusal } from '../../../command';
import type { Command } from '../../../command';
import { change, trayIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import type { Tray } from '../../../../../shared-types/rack';

export const editTray: Command<{
  trayId: string;
  patch: Partial<Omit<Tray, 'id' | 'grid' | 'canopy'>>;
}> = {
  name: 'editTray',
  label: ({ trayId }, plan) => `Edit ${nameOf(plan, refTo('tray', trayId))}`,
  run: (plan, { trayId, patch }) =>
    change(plan, (draft) => {
      const { shelf, tray } = trayIn(draft, trayId);
      const { letter } = patch;
      if (letter !== undefined && letter !== tray.letter) {
        const taken = shelf.trays.some((other) => other !== tray && other.letter === letter);
        if (taken) throw new Refusal(`Shelf ${shelf.number} has a tray ${letter} already.`);
      }
      Object.assign(tray, patch);
    }),
};
