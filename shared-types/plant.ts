import { z } from 'zod';
import { idSchema } from './basics';

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

export type PlanPlant = z.infer<typeof plantSchema>;
