import { Refusal } from '../../command';
import type { Command } from '../../command';
import type { BoundCommand } from '../../compose';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import { changedConditions } from '../../plantedConditions';

/**
 * Changes what planted plants grow under, such as a lamp that was hung higher, with the day and the
 * reason in the log.
 */
export const correctPlanted: Command<{ edit: BoundCommand; date: string; reason: string }> = {
  name: 'correctPlanted',
  label: ({ edit }, plan) => `${edit.label(null, plan)}, after planting`,
  run: (plan, { edit, date, reason }) => {
    const why = reason.trim();
    if (why === '') throw new Refusal('A planted rack is corrected with a reason; write one.');
    const label = edit.label(null, plan);
    const after = edit.run(plan, null);
    const changed = changedConditions(plan, after);
    if (changed.length === 0) return after;
    return change(after, (draft) => {
      draft.records.incidents.push({
        id: takeIdFrom(draft, 'incident'),
        date,
        text: `${label} after planting: ${why}`,
        about: changed.map(({ ref }) => ref),
        kept: true,
      });
    });
  },
};
