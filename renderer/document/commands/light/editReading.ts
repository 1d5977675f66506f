import { Refusal, type Command } from '../../command';
import { change } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { takenNow } from '../../edits/takenNow';
import type { LightReading } from '../../../../shared-types/light';

/** Puts a reading right. A new figure or place was taken of the lamps as they hang now. */
export const editReading: Command<{
  readingId: string;
  patch: Partial<Omit<LightReading, 'id'>>;
}> = {
  name: 'editReading',
  label: ({ readingId }, plan) => `Edit ${nameOf(plan, refTo('reading', readingId))}`,
  run: (plan, { readingId, patch }) =>
    change(plan, (draft) => {
      const reading = draft.light.readings.find((r) => r.id === readingId);
      if (!reading) throw new Refusal(`The plan has no meter reading with the id ${readingId}.`);
      const taken = ['value', 'shelfId', 'xMm', 'yMm', 'zMm'].some((part) => part in patch);
      if (taken) {
        delete reading.takenIn;
        delete reading.estimateUmol;
      }
      Object.assign(reading, patch);
      if (taken) Object.assign(reading, takenNow(plan, reading.shelfId));
    }),
};
