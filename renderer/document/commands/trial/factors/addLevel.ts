import type { Command } from '../../../command';
import { change, factorIn } from '../../../edit';
import { takeIdFrom } from '../../../ids';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { checkLevelName } from '../../../edits/checkNames';

export const addLevel: Command<{ factorId: string; name: string }> = {
  name: 'addLevel',
  label: ({ factorId, name }, plan) =>
    `Add level ${name.trim()} to ${nameOf(plan, refTo('factor', factorId))}`,
  run: (plan, { factorId, name }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      checkLevelName(factor, name);
      factor.levels.push({ id: takeIdFrom(draft, 'level'), name: name.trim() });
    }),
};
