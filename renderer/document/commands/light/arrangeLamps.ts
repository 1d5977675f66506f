import { Refusal, type Command } from '../../command';
import { change, lampKindIn, shelfIn, tenth } from '../../edit';
import { bayAt, baysOf } from '../../../engine/geometry';
import { takeIdFrom } from '../../ids';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Lamp } from '../../../../shared-types/rack';

/**
 * Hangs the lamps of a shelf, or of one of its bays, as a proposal has them: the lamps that are there
 * take the new places in their order and keep their groups, missing ones are added, spare ones taken
 * down. Those of other bays stay.
 */
export const arrangeLamps: Command<{
  shelfId: string;
  bayId?: string;
  lamps: readonly Omit<Lamp, 'id'>[];
}> = {
  name: 'arrangeLamps',
  label: ({ shelfId, bayId }, plan) =>
    `Arrange the lamps over ${nameOf(plan, bayId ? refTo('bay', bayId) : refTo('shelf', shelfId))}`,
  run: (plan, { shelfId, bayId, lamps }) => {
    for (const { kindId } of lamps) lampKindIn(plan, kindId);
    return change(plan, (draft) => {
      const shelf = shelfIn(draft, shelfId);
      const bays = baysOf(shelf);
      const bay = bayId === undefined ? null : bays.find(({ id }) => id === bayId);
      if (bay === undefined) throw new Refusal(`Shelf ${shelf.number} has no bay ${bayId ?? ''}.`);
      const here = ({ xMm, yMm }: Lamp) => bay === null || bayAt(bays, xMm, yMm) === bay;
      const hung = shelf.lamps.filter(here);
      const stay = shelf.lamps.filter((lamp) => !here(lamp));
      const placed = lamps.map((lamp, i) => {
        const there = hung[i];
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
      shelf.lamps = [...placed, ...stay];
    });
  },
};
