import { Refusal, type Command } from '../../command';
import { change } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { KEPT_ENTRY } from '../../edits/keptEntry';
import type { Incident } from '../../../../shared-types/records';

export const editIncident: Command<{
  incidentId: string;
  patch: Partial<Omit<Incident, 'id' | 'kept'>>;
}> = {
  name: 'editIncident',
  label: ({ incidentId }, plan) => `Edit ${nameOf(plan, refTo('incident', incidentId))}`,
  run: (plan, { incidentId, patch }) =>
    change(plan, (draft) => {
      const incident = draft.records.incidents.find((i) => i.id === incidentId);
      if (!incident) throw new Refusal(`The records have no incident with the id ${incidentId}.`);
      if (incident.kept) throw new Refusal(KEPT_ENTRY);
      Object.assign(incident, patch);
    }),
};
