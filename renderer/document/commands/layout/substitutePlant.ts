import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, layoutIn } from '../../edit';
import { storeDay } from '../../edits/storeValue';
import { takeIdFrom } from '../../ids';
import { codeOfPot, measurementLabel } from '../../queries/names';

/**
 * A spare plant takes the place of one that broke: code and starting value change, the treatment
 * stays with the pot, and the log says so. The broken one is no spare from then on.
 */
export const substitutePlant: Command<{
  potId: string;
  plant: string;
  measurementId: string | null;
  date: string;
  reason: string;
}> = {
  name: 'substitutePlant',
  entersValues: true,
  label: ({ potId, plant }, plan) => `Put plant ${plant} into pot ${codeOfPot(plan, potId)}`,
  run: (plan, { potId, plant, measurementId, date, reason }) => {
    const old = layoutIn(plan).assignments.find((assignment) => assignment.potId === potId);
    const pot = codeOfPot(plan, potId);
    if (!old) throw new Refusal(`Pot ${pot} is not part of the layout.`);
    const spare = plan.plants?.find((one) => one.code === plant);
    if (!spare || spare.lost) throw new Refusal(`There is no spare plant ${plant}.`);
    const taken = layoutIn(plan).assignments.find((assignment) => assignment.plant === plant);
    if (taken) throw new Refusal(`Plant ${plant} stands in pot ${codeOfPot(plan, taken.potId)}.`);
    const later = (plan.trial?.measurements ?? []).filter(({ timepoint }) => timepoint !== 'start');
    const measured = later.find(({ id }) => plan.records.values[id]?.[potId] !== undefined);
    if (measured) {
      throw new Refusal(
        `Pot ${pot} has ${measurementLabel(measured)} of the plant that stood there. Clear that value first, or mark the pot as dead.`,
      );
    }
    return change(plan, (draft) => {
      const layout = layoutIn(draft);
      for (const assignment of layout.assignments) {
        if (assignment.potId === potId) assignment.plant = plant;
      }
      for (const one of draft.plants ?? []) if (one.code === old.plant) one.lost = true;
      if (measurementId !== null) {
        (draft.records.values[measurementId] ??= {})[potId] = spare.startValue;
        storeDay(draft, measurementId, potId, null);
      }
      const why = reason.trim();
      draft.records.incidents.push({
        id: takeIdFrom(draft, 'incident'),
        date,
        text: `Plant ${plant} put into pot ${pot} in place of ${old.plant ?? 'another'}${why ? `: ${why}` : ''}`,
        about: [`pot:${potId}`],
      });
    });
  },
};
