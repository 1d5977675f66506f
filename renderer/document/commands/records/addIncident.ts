import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import type { Incident } from '../../../../shared-types/records';

export const addIncident: Command<Omit<Incident, 'id'>> = {
  name: 'addIncident',
  label: ({ date }) => `Add incident of ${date}`,
  run: (plan, incident) =>
    change(plan, (draft) => {
      const id = takeIdFrom(draft, 'incident');
      draft.records.incidents.push({ id, ...incident, about: [...incident.about] });
    }),
};
