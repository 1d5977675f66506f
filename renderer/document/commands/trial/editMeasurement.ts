import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, measurementIn, trialIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial';
import { renameMeasurement } from '../../edits/renameMeasurement';

function valuesOf({ records }: Plan, measurementId: string): number {
  const lists = [records.values, records.second].map((list) => list[measurementId] ?? {});
  return new Set(lists.flatMap((list) => Object.keys(list))).size;
}

function sayAs({ name, unit, timepoint }: Measurement): string {
  return `${name}${unit ? ` in ${unit}` : ''}, taken at ${timepoint === 'interim' ? 'an interim' : `the ${timepoint}`}`;
}

/** Refuses another unit or time under recorded values: it would change what they say. */
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
      const { scale, name, ...others } = patch;
      const stood = valuesOf(plan, measurementId);
      for (const key of ['unit', 'timepoint'] as const) {
        const to = others[key]?.trim();
        if (stood === 0 || to === undefined || to === measurement[key]) continue;
        throw new Refusal(
          `${stood} ${stood === 1 ? 'value was' : 'values were'} recorded as ${sayAs(measurement)}, so its ${key === 'unit' ? 'unit' : 'time'} stays. Export and clear them first, or add a measurement.`,
        );
      }
      renameMeasurement(trialIn(draft), measurement, (name ?? measurement.name).trim());
      Object.assign(measurement, others);
      if (scale) measurement.scale = scale;
      else if ('scale' in patch) delete measurement.scale;
      measurement.unit = measurement.unit.trim();
    }),
};
