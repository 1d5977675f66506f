import type { Command } from '../../command';
import { change, measurementIn } from '../../edit';
import { nameOf, sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { storeDay } from '../../edits/storeValue';

/** Says on which day recorded values were taken; null: on the day of their measurement. */
export const dateValues: Command<{
  measurementId: string;
  potIds: readonly string[];
  day: string | null;
}> = {
  name: 'dateValues',
  label: ({ measurementId, potIds }, plan) => {
    const pots = potIds.map((id) => refTo('pot', id));
    return `Date ${nameOf(plan, refTo('measurement', measurementId))} of ${sayThings(plan, pots)}`;
  },
  run: (plan, { measurementId, potIds, day }) => {
    measurementIn(plan, measurementId);
    return change(plan, (draft) => {
      for (const potId of potIds) storeDay(draft, measurementId, potId, day);
    });
  },
};
