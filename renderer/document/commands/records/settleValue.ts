import type { Command } from '../../command';
import { change, measurementIn } from '../../edit';
import { codeOfPot, nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { checkValues, forgetAcceptance, storeMark, storeValue } from '../../edits/storeValue';

/**
 * Settles a value that two people entered differently: from then on both entries say this one. A
 * mark that stood in place of the first value goes, for the plant was measured.
 */
export const settleValue: Command<{ measurementId: string; potId: string; value: number }> = {
  name: 'settleValue',
  entersValues: true,
  label: ({ measurementId, potId }, plan) =>
    `Settle ${nameOf(plan, refTo('measurement', measurementId))} of ${codeOfPot(plan, potId)}`,
  run: (plan, { measurementId, potId, value }) => {
    measurementIn(plan, measurementId);
    checkValues(plan, [{ potId, value }]);
    return change(plan, (draft) => {
      const { records } = draft;
      forgetAcceptance(draft, [{ measurementId, potId, value }]);
      if (records.values[measurementId]?.[potId] === undefined) {
        storeMark(records, potId, null, false);
      }
      storeValue(records.values, measurementId, potId, value);
      storeValue(records.second, measurementId, potId, value);
    });
  },
};
