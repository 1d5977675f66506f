import type { Command } from '../../command';
import { change, checkPots } from '../../edit';
import { sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Mark } from '../../../../shared-types/records';

/** Marks pots as dead, missing or excluded, or takes the mark away (null). Values stay. */
export const markPots: Command<{ potIds: readonly string[]; mark: Mark | null }> = {
  name: 'markPots',
  label: ({ potIds, mark }, plan) => {
    const pots = sayThings(
      plan,
      potIds.map((id) => refTo('pot', id)),
    );
    return mark ? `Mark ${pots} ${mark.mark}` : `Remove mark of ${pots}`;
  },
  run: (plan, { potIds, mark }) => {
    if (mark) checkPots(plan, potIds);
    return change(plan, ({ records }) => {
      for (const id of potIds) {
        if (mark) records.marks[id] = { ...mark };
        else Reflect.deleteProperty(records.marks, id);
      }
    });
  },
};
