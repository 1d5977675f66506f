import { Refusal, type Command } from '../../command';
import { change, layoutIn } from '../../edit';
import { takeIdFrom } from '../../ids';
import { runName } from '../../runs';
import { blindedSince } from '../../queries/blinding';
import { sayDay } from '../../../words';

/** Shows treatments as codes from now on. It is no step to undo: it is lifted by opening it. */
export const blindTrial: Command<{ date: string }> = {
  name: 'blindTrial',
  final: true,
  label: () => 'Blind the trial',
  run: (plan, { date }) => {
    layoutIn(plan);
    const since = blindedSince(plan);
    if (since !== null) throw new Refusal(`The trial is blinded since ${sayDay(since)}.`);
    if (plan.swap) {
      const from = runName(plan, plan.swap.fromRun);
      throw new Refusal(
        `This run exchanges levels of ${from.toLowerCase()}, whose treatments are shown. Blind ${from.toLowerCase()}, and both are.`,
      );
    }
    return change(plan, (draft) => {
      draft.records.blinded = { since: date };
      draft.records.incidents.push({
        id: takeIdFrom(draft, 'incident'),
        date,
        text: 'Blinded: treatments are shown as codes',
        about: [],
        kept: true,
      });
    });
  },
};
