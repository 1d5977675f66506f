import { Refusal, type Command } from '../../command';
import { change } from '../../edit';
import { takenNow } from '../../edits/takenNow';

/** Says that readings hold for the lamps as they are drawn now: the drawing was put right, not the rack. */
export const keepReadings: Command<{
  readingIds: readonly string[];
  /** PPFD by the lamps' figures as they are drawn now, by reading. */
  estimates?: ReadonlyMap<string, number>;
}> = {
  name: 'keepReadings',
  label: () => 'Keep meter readings',
  run: (plan, { readingIds, estimates }) =>
    change(plan, (draft) => {
      for (const id of readingIds) {
        const reading = draft.light.readings.find((r) => r.id === id);
        if (!reading) throw new Refusal(`The plan has no meter reading with the id ${id}.`);
        Object.assign(reading, takenNow(plan, reading.shelfId));
        delete reading.takenIn;
        delete reading.estimateUmol;
        const estimateUmol = estimates?.get(id);
        if (estimateUmol !== undefined) reading.estimateUmol = estimateUmol;
      }
    }),
};
