import type { Command } from '../../command';
import { layoutIn } from '../../edit';

export const dropLayout: Command<Record<never, never>> = {
  name: 'dropLayout',
  label: () => 'Drop the layout',
  run: (plan) => {
    layoutIn(plan);
    return { ...plan, layout: null };
  },
};
