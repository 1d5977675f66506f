import type { Command } from '../../command';
import { change, checkPots } from '../../edit';
import { codeOfPot } from '../../queries/names';
import { storeMark } from '../../edits/storeValue';
import type { Mark } from '../../../../shared-types/records';

/** Settles the state of a plant that two people saw differently; null: it is alive. */
export const settleMark: Command<{ potId: string; mark: Mark | null }> = {
  name: 'settleMark',
  entersValues: true,
  label: ({ potId }, plan) => `Settle the state of ${codeOfPot(plan, potId)}`,
  run: (plan, { potId, mark }) => {
    checkPots(plan, [potId]);
    return change(plan, ({ records }) => {
      for (const second of [false, true]) storeMark(records, potId, mark, second);
    });
  },
};
