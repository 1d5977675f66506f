import { z } from 'zod';
import { dateSchema, idSchema, instantSchema, potIdSchema, textSchema } from './basics';
import { schemeSchema } from './trial/scheme';

/** Where one pot stands in the drawn layout. */
export const assignmentSchema = z.strictObject({
  potId: potIdSchema,
  /** Name of its block, as printed. */
  block: z.string().max(60),
  /** Level of every factor for this pot, by factor id. */
  levels: z.record(idSchema, idSchema),
  /** Code of the plant that stands here; null where plants have no codes of their own. */
  plant: z.string().max(40).nullable(),
  /**
   * The light that the draw read here, µmol m⁻² s⁻¹, less what a light treatment sets; absent where
   * it was not known, and in layouts drawn before it was kept.
   */
  ppfdUmol: z.number().optional(),
  /** The starting value that the draw balanced here, where it balanced any. */
  startValue: z.number().optional(),
});

/** What the levels of a drawn factor may differ in by chance. */
export const balanceMeasures = ['light', 'edge', 'start'] as const;

/**
 * How far apart the levels' means lie at most in 99 of 100 redraws of the same design, for all
 * factors and measures together: light in µmol m⁻² s⁻¹, edge as a share of the pots, starting value
 * in standard deviations within levels.
 */
export const balanceLimitSchema = z.strictObject({
  factorId: idSchema,
  measure: z.enum(balanceMeasures),
  gap: z.number().min(0),
});

/**
 * The drawn layout: an act, not a computation, so it is kept. It holds all that is needed to draw
 * it again and to see whether it still fits the plan it was drawn from.
 */
export const layoutSchema = z.strictObject({
  scheme: schemeSchema,
  seed: z.string().min(1).max(200),
  drawnAt: instantSchema,
  engineVersion: z.string().max(40),
  /** Hash of all that the draw depends on. */
  drawnFrom: z.string().max(64),
  candidates: z.int().min(1),
  assignments: z.array(assignmentSchema),
  /** What the redraws made at the draw told; absent in layouts drawn before they were made. */
  balanceLimits: z.array(balanceLimitSchema).optional(),
  /** Exchanges made by hand at the rack after the draw, in order. */
  swaps: z.array(
    z.strictObject({ date: dateSchema, a: potIdSchema, b: potIdSchema, reason: textSchema }),
  ),
  /** Set once the plants stand in their holes; from then on the pots are locked. */
  plantedAt: dateSchema.nullable(),
});

export type Assignment = z.infer<typeof assignmentSchema>;
export type BalanceLimit = z.infer<typeof balanceLimitSchema>;
export type BalanceMeasure = (typeof balanceMeasures)[number];
export type Layout = z.infer<typeof layoutSchema>;
