import type { Command } from '../../command';
import { change, measurementIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Measurement } from '../../../../shared-types/trial';

export const editMeasurement: Command<{
  measurementId: string;
  patch: Partial<Omit<Measurement, 'id'>>;
}> = {
  name: 'editMeasurement',
  label: ({ measurementId }, plan) => `Edit ${nameOf(plan, refTo('measurement', measurementId))}`,
  run: (plan, { measurementId, patch }) =>
    change(plan, (draft) => {
      const measurement = measurementIn(draft, measurementId);
      Object.assign(measurement, patch);
      measurement.name = measurement.name.trim();
      measurement.unit = measurement.unit.trim();
    }),
};
