import type { Command } from '../../command';
import { change, measurementIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Measurement } from '../../../../shared-types/trial';

export const editMeasurement: Command<{
  measurementId: string;
  /** A scale of `undefined` takes the values as measured again. */
  patch: Partial<Omit<Measurement, 'id' | 'scale'>> & { scale?: Measurement['scale'] | undefined };
}> = {
  name: 'editMeasurement',
  label: ({ measurementId }, plan) => `Edit ${nameOf(plan, refTo('measurement', measurementId))}`,
  run: (plan, { measurementId, patch }) =>
    change(plan, (draft) => {
      const measurement = measurementIn(draft, measurementId);
      const { scale, ...others } = patch;
      Object.assign(measurement, others);
      if (scale) measurement.scale = scale;
      else if ('scale' in patch) delete measurement.scale;
      measurement.name = measurement.name.trim();
      measurement.unit = measurement.unit.trim();
    }),
};
