import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, shelfIn, lampKindIn, tenth } from '../../edit';
import { takeIdFrom } from '../../ids';
import { newLamp } from '../../new';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Lamp } from '../../../../shared-types/rack';

/**
 * Hangs lamps of one kind over a shelf: one in the middle, several evenly from front to back, or
 * wherever the stated figures put them.
 */
export const addLamp: Command<{
  shelfId: string;
  kindId: string;
  count?: number;
  lamp?: Partial<Omit<Lamp, 'id' | 'kindId'>>;
}> = {
  name: 'addLamp',
  label: ({ shelfId, count = 1 }, plan) =>
    `Add ${count === 1 ? 'lamp' : `${count} lamps`} over ${nameOf(plan, refTo('shelf', shelfId))}`,
  run: (plan, { shelfId, kindId, count = 1, lamp = {} }) => {
    lampKindIn(plan, kindId);
    if (!Number.isInteger(count) || count < 1 || count > 100) {
      throw new Refusal(`${count} lamps cannot be hung at once; 1 to 100 can.`);
    }
    return change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      for (let i = 0; i < count; i++) {
        const made = newLamp(takeIdFrom(draft, 'lamp'), kindId, shelf);
        const yMm = tenth((shelf.depthMm * (i + 0.5)) / count);
        shelf.lamps.push({ ...made, yMm, ...lamp });
      }
    });
  },
};
