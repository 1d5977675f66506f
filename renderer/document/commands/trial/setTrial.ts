import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import { newTrial } from '../../newTrial';

/** Starts a trial with the usual settings and two weighings. */
export const setTrial: Command<{ question?: string }> = {
  name: 'setTrial',
  label: () => 'Start a trial',
  run: (plan, { question = '' }) => {
    if (plan.trial) throw new Refusal('The plan has a trial already.');
    return change(plan, (draft) => {
      const start = takeIdFrom(draft, 'measurement');
      const harvest = takeIdFrom(draft, 'measurement');
      draft.trial = newTrial({ start, harvest }, question);
    });
  },
};
