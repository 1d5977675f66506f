import { z } from 'zod';
import { dateSchema, idSchema, nameSchema, textSchema } from './basics';
import { floodPlanSchema } from './flood';
import { lightPlanSchema } from './light';
import { rackSchema } from './rack';
import { runSchema } from './run';
import { trialSchema } from './trial/trial';
import { unitSystems } from './window/locale';

/** Written into every plan file, so that a file of another kind is known at once. */
export const PLAN_FORMAT = 'evenrack-plan';
/** Raised by one for every change of the file format; `document/migrations` has the step. */
export const PLAN_VERSION = 2;
/** Years of growing, one run after another. */
export const MAX_RUNS = 24;

/** A notice that the person has read and accepts, with the reason that the report prints. */
export const acceptedNoticeSchema = z.strictObject({
  kind: z.string().max(60),
  about: z.array(z.string()),
  reason: z.string().trim().min(1).max(2000),
  date: dateSchema.nullable(),
  /** The run whose records or layout it is about; absent: it holds for all of them. */
  run: idSchema.optional(),
});

/**
 * The plan as one run of it has it: all that the person decided or measured, and nothing that can be
 * computed; the drawn layout and the records are acts and are kept. Its file holds the runs (planFile).
 */
export const planSchema = z.strictObject({
  format: z.literal(PLAN_FORMAT),
  version: z.literal(PLAN_VERSION),
  title: nameSchema,
  notes: textSchema,
  display: z.strictObject({ lengths: z.enum(unitSystems) }),
  /** The next number for a permanent id. */
  nextId: z.int().min(1),
  /** The run that dates, layout, plants, records and swap are of, and whose rack this is. */
  runId: idSchema,
  rack: rackSchema,
  light: lightPlanSchema,
  flood: floodPlanSchema.nullable(),
  trial: trialSchema.nullable(),
  layout: runSchema.shape.layout,
  plants: runSchema.shape.plants,
  records: runSchema.shape.records,
  swap: runSchema.shape.swap,
  /** The other runs, in the order of time. */
  earlierRuns: z.array(runSchema).max(MAX_RUNS).optional(),
  laterRuns: z.array(runSchema).max(MAX_RUNS).optional(),
  acceptedNotices: z.array(acceptedNoticeSchema),
  /** What a person has said that heads of tables stand for: a measurement's id, a part or `nothing`. */
  tableHeads: z.record(z.string().min(1).max(200), z.string().min(1).max(200)).optional(),
});

export type AcceptedNotice = z.infer<typeof acceptedNoticeSchema>;
export type Plan = z.infer<typeof planSchema>;
