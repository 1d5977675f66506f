import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, layoutIn } from '../../edit';
import { takeIdFrom } from '../../ids';

/** Lifts the lock on a planted layout knowingly; the reason goes into the log of incidents. */
export const unlockLayout: Command<{ date: string; reason: string }> = {
  name: 'unlockLayout',
  label: () => 'Unlock the layout',
  run: (plan, { date, reason }) => {
    const layout = layoutIn(plan);
    if (layout.plantedAt === null)
      throw new Refusal('The layout is not planted, so it is not locked.');
    const why = reason.trim();
    if (why === '') throw new Refusal('A planted layout is unlocked with a reason; write one.');
    const since = layout.plantedAt;
    return change(plan, (draft) => {
      layoutIn(draft).plantedAt = null;
      draft.records.incidents.push({
        id: takeIdFrom(draft, 'incident'),
        date,
        text: `Layout unlocked (planted since ${since}): ${why}`,
        about: [],
        kept: true,
      });
    });
  },
};
