import { Refusal, type Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import { runName } from '../../runs';
import { blindedSince } from '../../queries/blinding';

/** Shows the treatments again, knowingly; day and reason stay in the log, which the report prints. */
export const openBlinding: Command<{ date: string; reason: string }> = {
  name: 'openBlinding',
  final: true,
  label: () => 'Open the blinding',
  run: (plan, { date, reason }) => {
    const since = blindedSince(plan);
    if (since === null) throw new Refusal('The trial is not blinded.');
    if (plan.records.blinded === undefined && plan.swap) {
      const from = runName(plan, plan.swap.fromRun).toLowerCase();
      throw new Refusal(`This run is blinded with ${from}: show ${from} and open it there.`);
    }
    const why = reason.trim();
    if (why === '') throw new Refusal('Blinding is opened with a reason; write one.');
    return change(plan, (draft) => {
      delete draft.records.blinded;
      draft.records.incidents.push({
        id: takeIdFrom(draft, 'incident'),
        date,
        text: `Blinding opened (blinded since ${since}): ${why}`,
        about: [],
        kept: true,
      });
    });
  },
};
