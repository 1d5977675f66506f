import { z } from 'zod';
import {
  dateSchema,
  idSchema,
  lengthMm,
  nameSchema,
  positiveMm,
  share,
  textSchema,
} from '../basics';
import { floodWindowSchema } from '../flood';
import { measurementSchema } from './measurement';
import { blocksSchema, schemeSchema, constraintSchema } from './scheme';
import { positionModelSchema } from './position';

/**
 * What one application of a treatment covers: the experimental unit. A zone is what one reservoir
 * floods. Strips are whole rows, or whole columns, of pots within a block: as many strips of equal
 * width as their factors take for one full set.
 */
export const unitKinds = [
  'shelf',
  'zone',
  'bay',
  'tray',
  'row-strip',
  'column-strip',
  'pot',
] as const;

export const unitSchema = z.enum(unitKinds);

export const unitWords: Record<UnitKind, { one: string; many: string }> = {
  shelf: { one: 'shelf', many: 'shelves' },
  zone: { one: 'reservoir', many: 'reservoirs' },
  bay: { one: 'bay', many: 'bays' },
  tray: { one: 'tray', many: 'trays' },
  'row-strip': { one: 'strip of rows', many: 'strips of rows' },
  'column-strip': { one: 'strip of columns', many: 'strips of columns' },
  pot: { one: 'pot', many: 'pots' },
};

/** What a factor's levels reach the plants through. */
export const applications = ['light', 'water', 'medium', 'plant', 'hand'] as const;

export const applicationWords: Record<Application, string> = {
  light: 'lamps and timer',
  water: 'water',
  medium: 'growing medium',
  plant: 'the plant itself',
  hand: 'by hand',
};

/** The smallest unit that can carry a level of its own. */
export const smallestUnitOf = {
  light: 'bay',
  water: 'zone',
  medium: 'pot',
  plant: 'pot',
  hand: 'pot',
} as const satisfies Record<Application, UnitKind>;

/**
 * What a level sets on what its factor is applied through. What is not said stays as it is on the
 * rack as drawn. No draw depends on it.
 */
export const levelSettingsSchema = z.discriminatedUnion('through', [
  z.strictObject({
    through: z.literal('light'),
    /** Of the lamps that hang in the bay. */
    lampKindId: idSchema.optional(),
    dimming: share.optional(),
    photoperiodHours: z.number().min(0).max(24).optional(),
    /** In place of the lamps as drawn: so many, spread evenly over the bay; height of their lit faces. */
    hanging: z.strictObject({ count: z.int().min(1).max(100), heightMm: lengthMm }).optional(),
  }),
  z.strictObject({
    through: z.literal('water'),
    /** What is in the reservoir, as its bottle or recipe is called. */
    solution: nameSchema.optional(),
    /** Electrical conductivity of the solution, mS/cm. */
    ecMsCm: z.number().min(0).max(50).optional(),
    floodDepthMm: positiveMm.optional(),
    /** In each window of the zone's day. */
    everyMinutes: floodWindowSchema.shape.everyMinutes.optional(),
    onMinutes: floodWindowSchema.shape.onMinutes.optional(),
  }),
  z.strictObject({ through: z.literal('medium'), mediumId: idSchema }),
  z.strictObject({
    through: z.literal('hand'),
    potDiameterMm: positiveMm.optional(),
    potHeightMm: positiveMm.optional(),
  }),
]);

export const levelSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /** How often the level is drawn where another is drawn once, e.g. 2 for a double control; 1 without. */
  times: z.int().min(1).max(50).optional(),
  /** Of what its factor is applied through; absent: nothing is said. */
  settings: levelSettingsSchema.optional(),
});

/**
 * A comparison stated in advance: the sum of the levels' means times their weights. The weights add
 * up to zero; a level without a weight has no part in it.
 */
export const contrastSchema = z.strictObject({
  name: nameSchema,
  weights: z.array(z.strictObject({ levelId: idSchema, weight: z.number() })).min(2),
  /** It stood in the plan when the rule of the analysis was fixed. */
  preSpecified: z.literal(true).optional(),
});

/**
 * A factor is `randomised` (by the draw) or `fixed` (a property of plant or place that nobody
 * randomised). `where` says which unit carries which level of a fixed factor.
 */
export const factorSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  kind: z.enum(['randomised', 'fixed']),
  /** Absent: not said. */
  appliedThrough: z.enum(applications).optional(),
  unit: unitSchema,
  levels: z.array(levelSchema).min(1),
  where: z.array(z.strictObject({ unitId: z.string(), levelId: idSchema })),
  /** The level that the others are compared with; without it every pair of levels is compared. */
  control: idSchema.optional(),
  /** Comparisons that were planned before harvest. */
  contrasts: z.array(contrastSchema).optional(),
});

export const trialSchema = z.strictObject({
  question: textSchema,
  factors: z.array(factorSchema),
  measurements: z.array(measurementSchema),
  blocks: blocksSchema,
  scheme: schemeSchema,
  constraint: constraintSchema,
  startDate: dateSchema.nullable(),
  harvestDate: dateSchema.nullable(),
  /** Probability of a false alarm the person accepts. */
  alpha: z.number().gt(0).lt(1),
  /** The measurement, taken at harvest, that answers the question. */
  primaryOutcomeId: idSchema.nullable(),
  primaryIndex: z.enum(['final', 'gain', 'relative-growth-rate']),
  primaryPosition: positionModelSchema,
  /** Use the starting value of the primary measurement as a covariate. */
  startCovariate: z.boolean(),
  /** Use the depth of water at each pot as a covariate, where trays are out of level. */
  wetDepthCovariate: z.boolean().optional(),
  /**
   * When the rule of the analysis was fixed, and how many values of the measurement that answers
   * the plan held by then. The rule: the measurement that answers, taken as `primaryIndex` on its
   * scale, with `primaryPosition`, the covariates, alpha and planned comparisons.
   */
  analysisLocked: z.strictObject({ date: dateSchema, valuesThen: z.int().min(0) }).optional(),
  /** What the power figures assume, in the primary measurement's unit. */
  expected: z
    .strictObject({
      plantSd: z.number().gt(0),
      /** Between units treated alike, beyond their plants; null: not said, assumed by kind of unit. */
      unitSd: z.number().min(0).nullable(),
      smallestDifference: z.number().gt(0),
      power: share,
    })
    .nullable(),
});

export type UnitKind = z.infer<typeof unitSchema>;

export type Application = (typeof applications)[number];

export type LevelSettings = z.infer<typeof levelSettingsSchema>;

export type Level = z.infer<typeof levelSchema>;

export type Contrast = z.infer<typeof contrastSchema>;

export type Factor = z.infer<typeof factorSchema>;

export type Trial = z.infer<typeof trialSchema>;
