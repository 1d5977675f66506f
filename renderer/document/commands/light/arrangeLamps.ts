import type { Command } from '../../command';
import { change, lampKindIn, shelfIn, tenth } from '../../edit';
import { takeIdFrom } from '../../ids';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Lamp } from '../../../../shared-types/rack';

/**
 * Hangs a shelf's lamps as a proposal has them: the lamps that are there take the new places in
 * their order and keep their groups, missing ones are added, spare ones taken down.
 */
export const arrangeLamps: Command<{ shelfId: string; lamps: readonly Omit<Lamp, 'id'>[] }> = {
  name: 'arrangeLamps',
  label: ({ shelfId }, plan) => `Arrange the lamps over ${nameOf(plan, refTo('shelf', shelfId))}`,
  run: (plan, { shelfId, lamps }) => {
    for (const { kindId } of lamps) lampKindIn(plan, kindId);
    return change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      shelf.lamps = lamps.map((lamp, i) => {
        const there = shelf.lamps[i];
        return {
          ...lamp,
          id: there?.id ?? takeIdFrom(draft, 'lamp'),
          group: there?.group ?? lamp.group,
          xMm: tenth(lamp.xMm),
          yMm: tenth(lamp.yMm),
          zMm: tenth(lamp.zMm),
          // A dimmer is set to a tenth of a per cent at the finest.
          dimming: Math.round(lamp.dimming * 1000) / 1000,
        };
      });
    });
  },
};
