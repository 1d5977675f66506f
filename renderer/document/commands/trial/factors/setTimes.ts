import { Refusal } from '../../../command';
import type { Command } from '../../../command';
import { change, factorIn, levelIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** How often a level is drawn where another is drawn once, e.g. twice for a double control. */
export const setTimes: Command<{ factorId: string; levelId: string; times: number }> = {
  name: 'setTimes',
  label: ({ factorId, levelId, times }, plan) =>
    `Draw ${nameOf(plan, refTo('level', levelId))} of ${nameOf(plan, refTo('factor', factorId))} ${times === 1 ? 'once' : `${times} times`}`,
  run: (plan, { factorId, levelId, times }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      if (factor.kind !== 'randomised') {
        throw new Refusal(
          `${factor.name} is fixed by you, so the draw does not decide how often a level occurs.`,
        );
      }
      if (!Number.isInteger(times) || times < 1 || times > 50) {
        throw new Refusal(`${times} times was found; a whole number from 1 to 50 is expected.`);
      }
      const level = levelIn(factor, levelId);
      if (times === 1) delete level.times;
      else level.times = times;
    }),
};
