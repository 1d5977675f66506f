import type { Command } from '../../command';
import type { LightPlan } from '../../../../shared-types/light';

export const editLight: Command<{ patch: Partial<Omit<LightPlan, 'readings'>> }> = {
  name: 'editLight',
  label: () => 'Edit what the light should be',
  run: (plan, { patch }) => ({ ...plan, light: { ...plan.light, ...patch } }),
};
