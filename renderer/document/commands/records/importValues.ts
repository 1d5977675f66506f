import type { Command } from '../../command';
import { change, measurementIn, checkPots } from '../../edit';
import { checkValues, forgetAcceptance, storeValue } from './storeValue';
import type { Mark } from '../../../../shared-types/records';

/** Takes over values and marks of a table that was matched and looked at, as one step. */
export const importValues: Command<{
  values: readonly { measurementId: string; potId: string; value: number }[];
  marks?: readonly { potId: string; mark: Mark['mark'] }[];
  second?: boolean;
}> = {
  name: 'importValues',
  label: ({ values }) => `Import ${values.length} values`,
  run: (plan, { values, marks = [], second = false }) => {
    for (const id of new Set(values.map((entry) => entry.measurementId))) measurementIn(plan, id);
    checkValues(plan, values);
    checkPots(
      plan,
      marks.map((entry) => entry.potId),
    );
    return change(plan, (draft) => {
      if (!second) forgetAcceptance(draft, values);
      const list = second ? draft.records.second : draft.records.values;
      for (const { measurementId, potId, value } of values) {
        storeValue(list, measurementId, potId, value);
      }
      for (const { potId, mark } of marks) {
        // A mark that says the same keeps its date and reason.
        if (draft.records.marks[potId]?.mark === mark) continue;
        draft.records.marks[potId] = { mark, date: null, reason: '' };
      }
    });
  },
};
