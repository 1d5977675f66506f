import type { Command } from '../../command';
import { trialIn } from '../../edit';
import type { Scheme } from '../../../../shared-types/trial/scheme';

export const setScheme: Command<{ scheme: Scheme }> = {
  name: 'setScheme',
  label: ({ scheme }) => `Set scheme ${scheme.replaceAll('-', ' ')}`,
  run: (plan, { scheme }) => ({ ...plan, trial: { ...trialIn(plan), scheme } }),
};
