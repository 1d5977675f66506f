import type { Command } from '../../command';

/** How lengths are shown; inside they stay mm. */
export const setLengthDisplay: Command<{ lengths: 'metric' | 'imperial' }> = {
  name: 'setLengthDisplay',
  label: ({ lengths }) => (lengths === 'metric' ? 'Show lengths in mm' : 'Show lengths in inches'),
  run: (plan, { lengths }) =>
    lengths === plan.display.lengths ? plan : { ...plan, display: { lengths } },
};
