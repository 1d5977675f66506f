import type { Command } from '../../command';
import { change, removeById } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';

export const removeIncident: Command<{ incidentId: string }> = {
  name: 'removeIncident',
  label: ({ incidentId }, plan) => `Remove ${nameOf(plan, refTo('incident', incidentId))}`,
  run: (plan, { incidentId }) =>
    change(plan, (draft) => {
      removeById(draft.records.incidents, incidentId);
    }),
};
