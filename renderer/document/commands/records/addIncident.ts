import type { Command } from '../../command';
import { change } from '../../edit';
import { checkPhotos } from '../../edits/checkPhotos';
import { takeIdFrom } from '../../ids';
import type { Incident } from '../../../../shared-types/records';
import { sayDay } from '../../../words';

export const addIncident: Command<Omit<Incident, 'id'>> = {
  name: 'addIncident',
  label: ({ date }) => `Add incident of ${sayDay(date)}`,
  run: (plan, incident) => {
    if (incident.photo !== undefined) checkPhotos([incident, ...plan.records.incidents]);
    return change(plan, (draft) => {
      const id = takeIdFrom(draft, 'incident');
      draft.records.incidents.push({ id, ...incident, about: [...incident.about] });
    });
  },
};
