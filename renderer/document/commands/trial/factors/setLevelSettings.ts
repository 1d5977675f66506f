import { Refusal } from '../../../command';
import type { Command } from '../../../command';
import { change, factorIn, levelIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { applicationWords, type LevelSettings } from '../../../../../shared-types/trial/trial';

/** Says what a level sets on lamps, water, medium or pots; null: nothing, the rack as drawn. */
export const setLevelSettings: Command<{
  factorId: string;
  levelId: string;
  settings: LevelSettings | null;
}> = {
  name: 'setLevelSettings',
  label: ({ factorId, levelId }, plan) =>
    `Set what ${nameOf(plan, refTo('level', levelId))} of ${nameOf(plan, refTo('factor', factorId))} gets`,
  run: (plan, { factorId, levelId, settings }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      const level = levelIn(factor, levelId);
      if (settings && settings.through !== factor.appliedThrough) {
        const words = applicationWords[settings.through];
        throw new Refusal(`${factor.name} is not applied through ${words}; say so first.`);
      }
      if (settings) level.settings = settings;
      else delete level.settings;
    }),
};
