import type { Command } from '../../../command';
import { change, shelfIn } from '../../../edit';
import { takeIdFrom } from '../../../ids';
import { newTray } from '../../../new';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import type { Tray } from '../../../../../shared-types/rack';

/** A tray on a shelf, with the stated figures instead of the usual ones. */
export const addTray: Command<{ shelfId: string; tray?: Partial<Omit<Tray, 'id'>> }> = {
  name: 'addTray',
  label: ({ shelfId }, plan) => `Add tray to ${nameOf(plan, refTo('shelf', shelfId))}`,
  run: (plan, { shelfId, tray = {} }) =>
    change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      shelf.trays.push({ ...newTray(takeIdFrom(draft, 'tray'), shelf), ...tray });
    }),
};
