import type { Command } from '../../../command';
import { change, factorIn, levelIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { checkLevelName } from '../../../edits/checkNames';

export const renameLevel: Command<{ factorId: string; levelId: string; name: string }> = {
  name: 'renameLevel',
  label: ({ levelId, name }, plan) =>
    `Rename ${nameOf(plan, refTo('level', levelId))} to ${name.trim()}`,
  run: (plan, { factorId, levelId, name }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      checkLevelName(factor, name, levelId);
      levelIn(factor, levelId).name = name.trim();
    }),
};
