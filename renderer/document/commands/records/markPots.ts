import type { Command } from '../../command';
import { change, checkPots } from '../../edit';
import { sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { storeMark } from '../../edits/storeValue';
import type { Mark } from '../../../../shared-types/records';

/**
 * Marks pots as dead, missing or excluded, or takes the mark away (null). Values stay. `second`: in
 * the independent second entry, which leaves the first as it is.
 */
export const markPots: Command<{
  potIds: readonly string[];
  mark: Mark | null;
  second?: boolean;
}> = {
  name: 'markPots',
  entersValues: true,
  label: ({ potIds, mark }, plan) => {
    const pots = sayThings(
      plan,
      potIds.map((id) => refTo('pot', id)),
    );
    return mark ? `Mark ${pots} ${mark.mark}` : `Remove mark of ${pots}`;
  },
  run: (plan, { potIds, mark, second = false }) => {
    if (mark) checkPots(plan, potIds);
    return change(plan, ({ records }) => {
      for (const id of potIds) storeMark(records, id, mark, second);
    });
  },
};
