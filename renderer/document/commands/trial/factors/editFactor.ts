import type { Command } from '../../../command';
import { change, trialIn, factorIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { checkFactorName } from '../../../edits/checkNames';
import type { Application, Factor } from '../../../../../shared-types/trial/trial';

/**
 * Another unit or kind empties the list of places, which belonged to the old one; so does another
 * way of applying it with the levels' settings.
 */
export const editFactor: Command<{
  factorId: string;
  patch: Partial<Pick<Factor, 'name' | 'kind' | 'unit'>> & {
    /** null: not said. */
    appliedThrough?: Application | null;
  };
}> = {
  name: 'editFactor',
  label: ({ factorId }, plan) => `Edit ${nameOf(plan, refTo('factor', factorId))}`,
  run: (plan, { factorId, patch }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      if (patch.name !== undefined) {
        checkFactorName(trialIn(draft), patch.name, factorId);
        factor.name = patch.name.trim();
      }
      const { kind = factor.kind, unit = factor.unit } = patch;
      if (kind !== factor.kind || unit !== factor.unit) factor.where = [];
      factor.kind = kind;
      factor.unit = unit;
      const { appliedThrough } = patch;
      if (appliedThrough === undefined || appliedThrough === factor.appliedThrough) return;
      if (appliedThrough === null) delete factor.appliedThrough;
      else factor.appliedThrough = appliedThrough;
      for (const level of factor.levels) delete level.settings;
    }),
};
