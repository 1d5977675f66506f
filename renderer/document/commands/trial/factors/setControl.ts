import type { Command } from '../../../command';
import { change, factorIn, levelIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** The level that the others of a factor are compared with; null: all pairs are compared. */
export const setControl: Command<{ factorId: string; levelId: string | null }> = {
  name: 'setControl',
  label: ({ factorId, levelId }, plan) =>
    levelId === null
      ? `Compare all levels of ${nameOf(plan, refTo('factor', factorId))}`
      : `Compare with ${nameOf(plan, refTo('level', levelId))} of ${nameOf(plan, refTo('factor', factorId))}`,
  run: (plan, { factorId, levelId }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      if (levelId === null) delete factor.control;
      else factor.control = levelIn(factor, levelId).id;
    }),
};
