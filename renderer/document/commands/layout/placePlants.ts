import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, layoutIn, measurementIn } from '../../edit';
import { storeDay } from '../../edits/storeValue';
import { sayDay } from '../../../words';

/** Writes which plant stands in which pot, and what it weighed into the records. */
export const placePlants: Command<{
  places: readonly { potId: string; plant: string; startValue: number }[];
  /** The starting measurement that the values belong to; null: they go into no record. */
  measurementId: string | null;
}> = {
  name: 'placePlants',
  entersValues: true,
  label: ({ places }) => `Give ${places.length} plants to pots`,
  run: (plan, { places, measurementId }) => {
    const layout = layoutIn(plan);
    if (layout.plantedAt !== null) {
      throw new Refusal(
        `The layout is planted since ${sayDay(layout.plantedAt)}; unlock it before giving plants to pots anew.`,
        { wayOn: 'unlock-layout' },
      );
    }
    const byPot = new Map(places.map((place) => [place.potId, place]));
    const drawn = new Set(layout.assignments.map((assignment) => assignment.potId));
    const stranger = places.find((place) => !drawn.has(place.potId));
    if (stranger) throw new Refusal(`Pot ${stranger.potId} is not part of the layout.`);
    if (measurementId !== null) measurementIn(plan, measurementId);
    return change(plan, (draft) => {
      for (const assignment of layoutIn(draft).assignments) {
        assignment.plant = byPot.get(assignment.potId)?.plant ?? null;
      }
      if (measurementId === null) return;
      const values = (draft.records.values[measurementId] ??= {});
      for (const { potId, startValue } of places) {
        values[potId] = startValue;
        storeDay(draft, measurementId, potId, null);
      }
    });
  },
};
