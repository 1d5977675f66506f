import type { Command } from '../../../command';
import { change, trialIn } from '../../../edit';
import { takeIdFrom } from '../../../ids';
import { checkFactorName } from '../../../edits/checkNames';
import type { Factor, UnitKind } from '../../../../../shared-types/trial/trial';

export const addFactor: Command<{
  name: string;
  kind: Factor['kind'];
  unit: UnitKind;
  levels: readonly string[];
}> = {
  name: 'addFactor',
  label: ({ name }) => `Add factor ${name.trim()}`,
  run: (plan, { name, kind, unit, levels }) =>
    change(plan, (draft) => {
      const trial = trialIn(draft);
      checkFactorName(trial, name);
      trial.factors.push({
        id: takeIdFrom(draft, 'factor'),
        name: name.trim(),
        kind,
        unit,
        levels: levels.map((level) => ({ id: takeIdFrom(draft, 'level'), name: level.trim() })),
        where: [],
      });
    }),
};
