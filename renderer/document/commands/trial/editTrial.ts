import type { Command } from '../../command';
import { trialIn } from '../../edit';
import type { Trial } from '../../../../shared-types/trial/trial';

/** Changes single fields of the trial: its question, dates, primary analysis, expectations. */
export const editTrial: Command<{
  patch: Partial<
    Omit<Trial, 'factors' | 'measurements' | 'blocks' | 'scheme' | 'constraint' | 'analysisLocked'>
  >;
}> = {
  name: 'editTrial',
  label: () => 'Edit the trial',
  run: (plan, { patch }) => ({ ...plan, trial: { ...trialIn(plan), ...patch } }),
};
