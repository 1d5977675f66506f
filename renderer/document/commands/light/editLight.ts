import type { Command } from '../../command';
import type { LightPlan } from '../../../../shared-types/light';

/** What `editLight` may change; readings and the rota have commands of their own. */
export type LightAim = Omit<LightPlan, 'readings' | 'rota'>;

export const editLight: Command<{ patch: Partial<LightAim> }> = {
  name: 'editLight',
  label: () => 'Edit what the light should be',
  run: (plan, { patch }) => ({ ...plan, light: { ...plan.light, ...patch } }),
};
