import type { Command } from '../../command';
import { change, measurementIn } from '../../edit';
import { nameOf, sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';
import {
  checkValues,
  forgetAcceptance,
  rememberStood,
  storeDay,
  storeValue,
} from '../../edits/storeValue';

/**
 * Writes values of one measurement, or clears them (null). `second`: the independent second entry,
 * kept beside the first one for comparison. `day`: when the values were taken, where it is said.
 */
export const enterValues: Command<{
  measurementId: string;
  entries: readonly { potId: string; value: number | null }[];
  second?: boolean;
  day?: string | undefined;
}> = {
  name: 'enterValues',
  entersValues: true,
  label: ({ measurementId, entries }, plan) => {
    const pots = entries.map((entry) => refTo('pot', entry.potId));
    const verb = entries.every((entry) => entry.value === null) ? 'Clear' : 'Enter';
    return `${verb} ${nameOf(plan, refTo('measurement', measurementId))} of ${sayThings(plan, pots)}`;
  },
  run: (plan, { measurementId, entries, second = false, day }) => {
    measurementIn(plan, measurementId);
    checkValues(plan, entries);
    return change(plan, (draft) => {
      if (!second) {
        forgetAcceptance(
          draft,
          entries.map((entry) => ({ measurementId, ...entry })),
        );
      }
      if (entries.some(({ value }) => value === null)) rememberStood(draft.records, measurementId);
      const list = second ? draft.records.second : draft.records.values;
      for (const { potId, value } of entries) {
        storeValue(list, measurementId, potId, value);
        if (!second) storeDay(draft, measurementId, potId, day);
      }
    });
  },
};
