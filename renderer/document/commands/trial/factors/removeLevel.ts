import { Refusal, type Command } from '../../../command';
import { change, factorIn, levelIn, removeById } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { dropLayoutOf } from '../../../edits/dropLayoutOf';
import { forgetLevels } from '../../../edits/forgetLevels';

/** Removes a level with its places and the comparisons it is part of, and an unplanted layout that was drawn with it. */
export const removeLevel: Command<{ factorId: string; levelId: string }> = {
  name: 'removeLevel',
  label: ({ factorId, levelId }, plan) =>
    `Remove ${nameOf(plan, refTo('level', levelId))} of ${nameOf(plan, refTo('factor', factorId))}`,
  run: (plan, { factorId, levelId }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      const { name } = levelIn(factor, levelId);
      if (factor.levels.length === 1) {
        throw new Refusal(
          `${name} is the only level of ${factor.name}; remove the factor instead.`,
        );
      }
      removeById(factor.levels, levelId);
      if (factor.control === levelId) delete factor.control;
      if (factor.contrasts) {
        const kept = factor.contrasts.filter(
          ({ weights }) => !weights.some((part) => part.levelId === levelId),
        );
        if (kept.length > 0) factor.contrasts = kept;
        else delete factor.contrasts;
      }
      factor.where = factor.where.filter((place) => place.levelId !== levelId);
      forgetLevels(draft, (_id, gone) => gone === levelId);
      dropLayoutOf(draft, (levels) => levels[factorId] === levelId);
    }),
};
