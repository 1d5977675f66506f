import { Refusal } from '../../command';
import type { Command } from '../../command';
import { trialIn } from '../../edit';
import type { Layout } from '../../../../shared-types/layout';

/** Keeps a layout that was just drawn, in place of an earlier one that is not planted. */
export const keepLayout: Command<{ layout: Layout }> = {
  name: 'keepLayout',
  label: ({ layout }) => `Draw layout with seed ${layout.seed}`,
  run: (plan, { layout }) => {
    trialIn(plan);
    if (plan.layout && plan.layout.plantedAt !== null) {
      throw new Refusal(
        `The layout is planted since ${plan.layout.plantedAt}; unlock it before drawing another.`,
      );
    }
    return { ...plan, layout: { ...layout, plantedAt: null } };
  },
};
