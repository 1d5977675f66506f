import type { Command } from '../../../command';
import { change, trialIn, factorIn, removeById } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { dropLayoutOf } from '../../../edits/dropLayoutOf';
import { forgetLevels } from '../../../edits/forgetLevels';

/** Removes a factor, and with it an unplanted layout that was drawn for it. */
export const removeFactor: Command<{ factorId: string }> = {
  name: 'removeFactor',
  label: ({ factorId }, plan) => `Remove ${nameOf(plan, refTo('factor', factorId))}`,
  run: (plan, { factorId }) => {
    factorIn(plan, factorId);
    return change(plan, (draft) => {
      removeById(trialIn(draft).factors, factorId);
      forgetLevels(draft, (id) => id === factorId);
      dropLayoutOf(draft, (levels) => levels[factorId] !== undefined);
    });
  },
};
