import type { Command } from '../../command';
import type { LightPlan, RotaPeriod } from '../../../../shared-types/light';

/**
 * Keeps a rota of tray moves; an empty one drops it. Moving trays moves no pot within its tray, so
 * that a planted layout allows it.
 */
export const setRota: Command<{ rota: readonly RotaPeriod[] }> = {
  name: 'setRota',
  label: ({ rota }) => (rota.length > 0 ? 'Set the rota of tray moves' : 'Drop the rota'),
  run: (plan, { rota }) => {
    const { rota: before, ...light } = plan.light;
    if (rota.length === 0 && before === undefined) return plan;
    const after: LightPlan = rota.length > 0 ? { ...light, rota: [...rota] } : light;
    return { ...plan, light: after };
  },
};
