import type { Command } from '../../command';
import { change, trialIn } from '../../edit';
import { takeIdFrom } from '../../ids';
import { newMeasurement } from '../../newTrial';
import { joinNamesake } from '../../edits/renameMeasurement';
import type { Measurement } from '../../../../shared-types/trial/measurement';

/** A measurement to take, with the stated figures instead of the usual ones. */
export const addMeasurement: Command<{
  name: string;
  timepoint: Measurement['timepoint'];
  measurement?: Partial<Omit<Measurement, 'id' | 'name' | 'timepoint'>>;
}> = {
  name: 'addMeasurement',
  label: ({ name }) => `Add measurement ${name.trim()}`,
  run: (plan, { name, timepoint, measurement = {} }) =>
    change(plan, (draft) => {
      const trial = trialIn(draft);
      const id = takeIdFrom(draft, 'measurement');
      const usual = newMeasurement(id, name.trim(), timepoint, measurement.kind);
      const given = { ...usual, ...measurement };
      const made = { ...given, unit: given.unit.trim() };
      joinNamesake(trial, made);
      trial.measurements.push(made);
    }),
};
