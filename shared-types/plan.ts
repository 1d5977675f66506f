import { z } from 'zod';
import { dateSchema, idSchema, nameSchema, textSchema } from './basics';
import { floodPlanSchema } from './flood';
import { layoutSchema } from './layout';
import { lightPlanSchema } from './light';
import { rackSchema } from './rack';
import { recordsSchema } from './records';
import { trialSchema } from './trial';

/** Written into every plan file, so that a file of another kind is known at once. */
export const PLAN_FORMAT = 'evenrack-plan';
/** Raised by one for every change of the file format; `document/migrations` has the step. */
export const PLAN_VERSION = 2;

/** A notice that the person has read and accepts, with the reason that the report prints. */
export const acceptedNoticeSchema = z.strictObject({
  kind: z.string().max(60),
  about: z.array(z.string()),
  reason: z.string().trim().min(1).max(2000),
  date: dateSchema.nullable(),
});

/** A plant that was weighed (or counted, or measured) before it had a pot. */
export const plantSchema = z.strictObject({
  code: z.string().trim().min(1).max(40),
  /** In the unit of the starting measurement it was taken for. */
  startValue: z.number(),
  /** Levels of pot factors that the plant brings with it, such as its cultivar, by factor id. */
  levels: z.record(idSchema, idSchema).optional(),
  /** Broken or dead: it is no spare. */
  lost: z.literal(true).optional(),
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
  display: z.strictObject({ lengths: z.enum(['metric', 'imperial']) }),
  /** The next number for a permanent id. */
  nextId: z.int().min(1),
  /** The run that dates, layout, plants and records are of. */
  runId: idSchema,
  rack: rackSchema,
  light: lightPlanSchema,
  flood: floodPlanSchema.nullable(),
  trial: trialSchema.nullable(),
  layout: layoutSchema.nullable(),
  /** Plants weighed before they are given to pots, where anybody did. */
  plants: z.array(plantSchema).max(20_000).optional(),
  records: recordsSchema,
  acceptedNotices: z.array(acceptedNoticeSchema),
});

export type AcceptedNotice = z.infer<typeof acceptedNoticeSchema>;
export type PlanPlant = z.infer<typeof plantSchema>;
export type Plan = z.infer<typeof planSchema>;
