import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import { takenNow } from '../../edits/takenNow';
import type { LightReading } from '../../../../shared-types/light';

/** Adds readings, taken of the lamps as they hang now. */
export const addReadings: Command<{ readings: readonly Omit<LightReading, 'id'>[] }> = {
  name: 'addReadings',
  label: ({ readings }) =>
    readings.length === 1 ? 'Add meter reading' : `Add ${readings.length} meter readings`,
  run: (plan, { readings }) =>
    change(plan, (draft) => {
      for (const reading of readings) {
        const id = takeIdFrom(draft, 'reading');
        draft.light.readings.push({ id, ...reading, ...takenNow(plan, reading.shelfId) });
      }
    }),
};
