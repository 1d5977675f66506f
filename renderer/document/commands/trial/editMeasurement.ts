import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, measurementIn, trialIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Plan } from '../../../../shared-types/plan';
import { usualOfKind, type Measurement } from '../../../../shared-types/trial/measurement';
import { renameMeasurement } from '../../edits/renameMeasurement';

/** A scale of `undefined` takes the values as measured again. */
type MeasurementPatch = Partial<Omit<Measurement, 'id' | 'scale'>> & {
  scale?: Measurement['scale'] | undefined;
};

/** What another kind brings, besides what is said itself. */
function withUsual(patch: MeasurementPatch, was: Measurement, stood: number): MeasurementPatch {
  if (patch.kind === undefined || patch.kind === was.kind || stood > 0) return patch;
  const { scale, ...usual } = usualOfKind[patch.kind];
  const start = (patch.timepoint ?? was.timepoint) === 'start';
  return { ...usual, scale: start ? undefined : scale, ...patch };
}

function valuesOf({ records }: Plan, measurementId: string): number {
  const lists = [records.values, records.second].map((list) => list[measurementId] ?? {});
  return new Set(lists.flatMap((list) => Object.keys(list))).size;
}

function sayAs({ name, unit, timepoint }: Measurement): string {
  return `${name}${unit ? ` in ${unit}` : ''}, taken at ${timepoint === 'interim' ? 'an interim' : `the ${timepoint}`}`;
}

/**
 * Refuses another unit or time under recorded values: it would change what they say. Another kind
 * brings unit, decimals, range and scale that fit it, as long as no value stands.
 */
export const editMeasurement: Command<{
  measurementId: string;
  patch: MeasurementPatch;
}> = {
  name: 'editMeasurement',
  label: ({ measurementId }, plan) => `Edit ${nameOf(plan, refTo('measurement', measurementId))}`,
  run: (plan, { measurementId, patch }) =>
    change(plan, (draft) => {
      const measurement = measurementIn(draft, measurementId);
      const { name, ...others } = withUsual(patch, measurement, valuesOf(plan, measurementId));
      const { scale, ...rest } = others;
      const stood = valuesOf(plan, measurementId);
      for (const key of ['unit', 'timepoint'] as const) {
        const to = others[key]?.trim();
        if (stood === 0 || to === undefined || to === measurement[key]) continue;
        throw new Refusal(
          `${stood} ${stood === 1 ? 'value was' : 'values were'} recorded as ${sayAs(measurement)}, so its ${key === 'unit' ? 'unit' : 'time'} stays. Export and clear them first, or add a measurement.`,
        );
      }
      renameMeasurement(trialIn(draft), measurement, (name ?? measurement.name).trim());
      Object.assign(measurement, rest);
      if (scale) measurement.scale = scale;
      else if ('scale' in others) delete measurement.scale;
      measurement.unit = measurement.unit.trim();
    }),
};
