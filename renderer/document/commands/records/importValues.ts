import type { Command } from '../../command';
import { change, measurementIn, checkPots } from '../../edit';
import {
  checkValues,
  forgetAcceptance,
  storeDay,
  storeMark,
  storeValue,
} from '../../edits/storeValue';
import type { Mark, PotNote, Records } from '../../../../shared-types/records';
import type { MarkToTake, ValueToTake } from '../../records/reading/outcome';

/**
 * Takes over values, marks and notes of a table that was matched and looked at, as one step.
 * `second`: `values` and `marks` are those of the second person; `secondValues` and `secondMarks`
 * always are.
 */
export const importValues: Command<{
  values: readonly ValueToTake[];
  secondValues?: readonly ValueToTake[];
  marks?: readonly MarkToTake[];
  secondMarks?: readonly MarkToTake[];
  notes?: readonly { potId: string; note: PotNote }[];
  second?: boolean;
  /** What was said of heads of its columns, kept for the next table. */
  heads?: Readonly<Record<string, string>>;
}> = {
  name: 'importValues',
  entersValues: true,
  label: ({ values, secondValues = [] }) => `Import ${values.length + secondValues.length} values`,
  run: (plan, args) => {
    const { values, secondValues = [], marks = [], secondMarks = [], notes = [] } = args;
    const { second = false, heads = {} } = args;
    const all = [...values, ...secondValues];
    for (const id of new Set(all.map((entry) => entry.measurementId))) measurementIn(plan, id);
    checkValues(plan, all);
    checkPots(
      plan,
      [...marks, ...secondMarks, ...notes].map((entry) => entry.potId),
    );
    return change(plan, (draft) => {
      const { records } = draft;
      const list = second ? records.second : records.values;
      if (!second) forgetAcceptance(draft, values);
      for (const { measurementId, potId, value, day } of values) {
        storeValue(list, measurementId, potId, value);
        if (!second) storeDay(draft, measurementId, potId, day);
      }
      for (const { measurementId, potId, value } of secondValues) {
        storeValue(records.second, measurementId, potId, value);
      }
      for (const { potId, mark, full } of marks) takeMark(records, potId, mark, full, second);
      for (const { potId, mark, full } of secondMarks) takeMark(records, potId, mark, full, true);
      for (const { potId, note } of notes) {
        (records.notes ??= {})[potId] = { text: note.text, files: [...note.files] };
      }
      if (Object.keys(heads).length > 0) draft.tableHeads = { ...draft.tableHeads, ...heads };
    });
  },
};

/** A mark that says the same keeps its date and reason, where the table has none. */
function takeMark(
  records: Records,
  potId: string,
  mark: Mark['mark'],
  full: Mark | undefined,
  second: boolean,
): void {
  const was = second ? records.secondMarks?.[potId] : records.marks[potId];
  if (full) storeMark(records, potId, full, second);
  else if (was?.mark !== mark) storeMark(records, potId, { mark, date: null, reason: '' }, second);
}
