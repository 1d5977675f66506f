import type { Command } from '../../../command';
import { change, factorIn, levelIn, moveTo } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Puts a level at another place in its factor's order, counted from 0. */
export const moveLevel: Command<{ factorId: string; levelId: string; to: number }> = {
  name: 'moveLevel',
  label: ({ levelId }, plan) => `Move ${nameOf(plan, refTo('level', levelId))}`,
  run: (plan, { factorId, levelId, to }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      moveTo(factor.levels, factor.levels.indexOf(levelIn(factor, levelId)), to);
    }),
};
