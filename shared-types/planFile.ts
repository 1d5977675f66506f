import { z } from 'zod';
import { MAX_RUNS, planSchema } from './plan';
import { runSchema } from './run';
import { trialSchema } from './trial/trial';
import { measurementSchema } from './trial/measurement';

const trialOfRunsSchema = trialSchema
  .omit({ startDate: true, harvestDate: true })
  .extend({ measurements: z.array(measurementSchema.omit({ date: true })) });

/** A plan as its file holds it: what was decided once, and the runs in which it is done. */
export const planFileSchema = planSchema
  .omit({
    runId: true,
    layout: true,
    plants: true,
    records: true,
    swap: true,
    earlierRuns: true,
    laterRuns: true,
  })
  .extend({
    trial: trialOfRunsSchema.nullable(),
    /** In the order of time; what stands beside them is the last one's. */
    runs: z.array(runSchema).min(1).max(MAX_RUNS),
  });

export type PlanFile = z.infer<typeof planFileSchema>;
