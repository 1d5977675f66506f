import type { Command } from '../../command';

/** The units in which lengths, water, weights and temperatures are shown; inside they stay metric. */
export const setLengthDisplay: Command<{ lengths: 'metric' | 'imperial' }> = {
  name: 'setLengthDisplay',
  label: ({ lengths }) => (lengths === 'metric' ? 'Show metric units' : 'Show imperial units'),
  run: (plan, { lengths }) =>
    lengths === plan.display.lengths ? plan : { ...plan, display: { lengths } },
};
