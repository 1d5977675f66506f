import { Refusal, type Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import type { Incident } from '../../../../shared-types/records';
import { sayDay } from '../../../words';

/** All photos of a plan together, or each save would take its time. */
const MOST_SIGNS_IN_ALL = 20_000_000;

export const addIncident: Command<Omit<Incident, 'id'>> = {
  name: 'addIncident',
  label: ({ date }) => `Add incident of ${sayDay(date)}`,
  run: (plan, incident) => {
    const all = [incident, ...plan.records.incidents];
    const signs = all.reduce((sum, { photo = '' }) => sum + photo.length, 0);
    if (incident.photo !== undefined && signs > MOST_SIGNS_IN_ALL) {
      throw new Refusal(
        'The photos of this plan have 20 MB together, the most that it keeps. Write the path of this one into the note on its pot.',
      );
    }
    return change(plan, (draft) => {
      const id = takeIdFrom(draft, 'incident');
      draft.records.incidents.push({ id, ...incident, about: [...incident.about] });
    });
  },
};
