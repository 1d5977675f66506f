import { Refusal, type Command } from '../../command';
import { change } from '../../edit';
import { checkPhotos } from '../../edits/checkPhotos';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { KEPT_ENTRY } from '../../edits/keptEntry';
import type { Incident } from '../../../../shared-types/records';

/** `photo`: null takes it away. */
export const editIncident: Command<{
  incidentId: string;
  patch: Partial<Omit<Incident, 'id' | 'kept' | 'photo'>> & { photo?: string | null };
}> = {
  name: 'editIncident',
  label: ({ incidentId, patch }, plan) => {
    const name = nameOf(plan, refTo('incident', incidentId));
    if (patch.photo === undefined) return `Edit ${name}`;
    return patch.photo === null ? `Remove the photo of ${name}` : `Add a photo to ${name}`;
  },
  run: (plan, { incidentId, patch }) => {
    const { photo, ...rest } = patch;
    const changed = change(plan, (draft) => {
      const incident = draft.records.incidents.find((i) => i.id === incidentId);
      if (!incident) throw new Refusal(`The records have no incident with the id ${incidentId}.`);
      if (incident.kept) throw new Refusal(KEPT_ENTRY);
      Object.assign(incident, rest);
      if (photo === null) delete incident.photo;
      else if (photo !== undefined) incident.photo = photo;
    });
    if (photo) checkPhotos(changed.records.incidents);
    return changed;
  },
};
