import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import type { LightReading } from '../../../../shared-types/light';

export const addReadings: Command<{ readings: readonly Omit<LightReading, 'id'>[] }> = {
  name: 'addReadings',
  label: ({ readings }) =>
    readings.length === 1 ? 'Add meter reading' : `Add ${readings.length} meter readings`,
  run: (plan, { readings }) =>
    change(plan, (draft) => {
      for (const reading of readings) {
        draft.light.readings.push({ id: takeIdFrom(draft, 'reading'), ...reading });
      }
    }),
};
