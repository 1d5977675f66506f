import { Refusal, type Command } from '../../command';
import { change, removeById } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { KEPT_ENTRY } from '../../edits/keptEntry';

export const removeIncident: Command<{ incidentId: string }> = {
  name: 'removeIncident',
  label: ({ incidentId }, plan) => `Remove ${nameOf(plan, refTo('incident', incidentId))}`,
  run: (plan, { incidentId }) =>
    change(plan, (draft) => {
      if (draft.records.incidents.some((one) => one.id === incidentId && one.kept)) {
        throw new Refusal(KEPT_ENTRY);
      }
      removeById(draft.records.incidents, incidentId);
    }),
};
