import { z } from 'zod';
import { dateSchema, idSchema } from './basics';
import { planSchema } from './plan';
import { measurementSchema, trialSchema } from './trial';

/**
 * A plan as its file holds it: what was decided once, and the runs in which it was done. A run has
 * its dates, its draw, its plants and its records.
 */
export const runSchema = z.strictObject({
  id: idSchema,
  startDate: dateSchema.nullable(),
  harvestDate: dateSchema.nullable(),
  /** Day of each measurement, by its id, where the day is known. */
  measurementDates: z.record(idSchema, dateSchema),
  layout: planSchema.shape.layout,
  plants: planSchema.shape.plants,
  records: planSchema.shape.records,
});

const trialOfRunsSchema = trialSchema
  .omit({ startDate: true, harvestDate: true })
  .extend({ measurements: z.array(measurementSchema.omit({ date: true })) });

export const planFileSchema = planSchema
  .omit({ runId: true, layout: true, plants: true, records: true })
  .extend({
    trial: trialOfRunsSchema.nullable(),
    runs: z.array(runSchema).length(1),
  });

export type Run = z.infer<typeof runSchema>;
export type PlanFile = z.infer<typeof planFileSchema>;
