import { z } from 'zod';
import { dateSchema, idSchema } from './basics';
import { floodPlanSchema } from './flood';
import { layoutSchema } from './layout';
import { lightPlanSchema } from './light';
import { plantSchema } from './plant';
import { rackSchema } from './rack';
import { recordsSchema } from './records';
import { levelSettingsSchema } from './trial/trial';

/** What a run was grown on, kept so that later edits act on later runs only. */
export const grownOnSchema = z.strictObject({
  rack: rackSchema,
  light: lightPlanSchema,
  flood: floodPlanSchema.nullable(),
  /** What each level set then, by level id; a level without settings is not listed. */
  settings: z.record(idSchema, levelSettingsSchema),
});

/**
 * A draw that is bound to another run's: every unit takes the level that comes `step` places later
 * in the factor's list than the one it had there, the first after the last. Other factors on the
 * same units stay where they were.
 */
export const swapSchema = z.strictObject({
  fromRun: idSchema,
  factorId: idSchema,
  step: z.int().min(0).max(50),
});

/** Once the trial was grown, or is to be: its dates, its draw, its plants and its records. */
export const runSchema = z.strictObject({
  id: idSchema,
  startDate: dateSchema.nullable(),
  harvestDate: dateSchema.nullable(),
  /** Day of each measurement, by its id, where the day is known. */
  measurementDates: z.record(idSchema, dateSchema),
  layout: layoutSchema.nullable(),
  /** Plants weighed before they are given to pots, where anybody did. */
  plants: z.array(plantSchema).max(20_000).optional(),
  records: recordsSchema,
  /** Absent: drawn by itself. */
  swap: swapSchema.optional(),
  /** Absent: grown on the plan's own rack. */
  grownOn: grownOnSchema.optional(),
});

export type GrownOn = z.infer<typeof grownOnSchema>;
export type Swap = z.infer<typeof swapSchema>;
export type Run = z.infer<typeof runSchema>;
