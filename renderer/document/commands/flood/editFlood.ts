import { Refusal } from '../../command';
import { checkMediaInUse } from '../../edits/mediaInUse';
import type { Command } from '../../command';
import type { FloodPlan } from '../../../../shared-types/flood';

/** Sets figures that hold for the whole flooding, and lists without ids of their own. */
export const editFlood: Command<{ patch: Partial<Omit<FloodPlan, 'zones'>> }> = {
  name: 'editFlood',
  label: () => 'Edit flooding',
  run: (plan, { patch }) => {
    if (!plan.flood) throw new Refusal('The flooding is not being planned yet.');
    if (patch.media) checkMediaInUse(plan, patch.media);
    return { ...plan, flood: { ...plan.flood, ...patch } };
  },
};
