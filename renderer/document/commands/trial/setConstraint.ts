import type { Command } from '../../command';
import { trialIn } from '../../edit';
import type { Constraint } from '../../../../shared-types/trial/scheme';

/** What a draw must meet to be taken. */
export const setConstraint: Command<{ patch: Partial<Constraint> }> = {
  name: 'setConstraint',
  label: () => 'Set what a draw must balance',
  run: (plan, { patch }) => {
    const trial = trialIn(plan);
    return { ...plan, trial: { ...trial, constraint: { ...trial.constraint, ...patch } } };
  },
};
