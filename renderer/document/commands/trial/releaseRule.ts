import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, trialIn } from '../../edit';
import { takeIdFrom } from '../../ids';

/** Releases a fixed rule of the analysis knowingly; the reason goes into the log of incidents. */
export const releaseRule: Command<{ date: string; reason: string }> = {
  name: 'releaseRule',
  label: () => 'Unlock the analysis',
  run: (plan, { date, reason }) => {
    const { analysisLocked } = trialIn(plan);
    if (!analysisLocked) throw new Refusal('The analysis is not locked.');
    const why = reason.trim();
    if (why === '') throw new Refusal('A fixed rule is released with a reason; write one.');
    return change(plan, (draft) => {
      const trial = trialIn(draft);
      delete trial.analysisLocked;
      for (const factor of trial.factors) {
        for (const contrast of factor.contrasts ?? []) delete contrast.preSpecified;
      }
      draft.records.incidents.push({
        id: takeIdFrom(draft, 'incident'),
        date,
        text: `Analysis unlocked (locked on ${analysisLocked.date}): ${why}`,
        about: [],
        kept: true,
      });
    });
  },
};
