import { z } from 'zod';
import {
  dateSchema,
  idSchema,
  lengthMm,
  nameSchema,
  positiveMm,
  share,
  textSchema,
} from './basics';
import { floodWindowSchema } from './flood';

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

/**
 * How values enter the analysis: as square roots or logarithms, or as counts with a log link. Their
 * absence means as measured.
 */
export const scaleSchema = z.enum(['sqrt', 'log', 'poisson', 'quasi-poisson', 'negative-binomial']);

/** What is measured of a plant. */
export const measurementKinds = ['weight', 'count', 'length', 'score', 'index'] as const;
export const measurementKindWords: Record<Measurement['kind'], string> = {
  weight: 'weight',
  count: 'count',
  length: 'length',
  score: 'score',
  index: 'index (reading of a meter)',
};

/** What holds of the values of each kind. */
export const measurementTraits: Record<
  Measurement['kind'],
  {
    /** Counted: whole numbers, kept as they are. */
    whole: boolean;
    /** On a ratio scale: never below 0, and compared by how many times one is the other. */
    ratio: boolean;
    /** Taken on a balance, with a dish to take off. */
    weighed: boolean;
    /** A distance, which may be how high plants have grown. */
    long: boolean;
    /** Of few steps, so that means are judged by the shuffle alone and not by a normal law. */
    steps: boolean;
  }
> = {
  weight: { whole: false, ratio: true, weighed: true, long: false, steps: false },
  count: { whole: true, ratio: true, weighed: false, long: false, steps: false },
  length: { whole: false, ratio: true, weighed: false, long: true, steps: false },
  score: { whole: false, ratio: false, weighed: false, long: false, steps: true },
  index: { whole: false, ratio: true, weighed: false, long: false, steps: false },
};

/**
 * What a measurement of each kind begins with. A count has no decimals and is analysed as a count:
 * quasi-Poisson, because plants differ by more than chance alone would have them.
 */
export const usualOfKind: Record<
  Measurement['kind'],
  Pick<Measurement, 'unit' | 'decimals' | 'lowest' | 'highest'> & { scale?: Scale }
> = {
  weight: { unit: 'g', decimals: 1, lowest: 0, highest: null },
  count: { unit: '', decimals: 0, lowest: 0, highest: null, scale: 'quasi-poisson' },
  length: { unit: 'mm', decimals: 0, lowest: 0, highest: null },
  score: { unit: '', decimals: 0, lowest: 1, highest: 5 },
  index: { unit: '', decimals: 1, lowest: 0, highest: null },
};

export const measurementSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /**
   * What it is of, where that is not its name: what it was called while it shared that name with
   * others. Measurements of one kind, unit and quantity are one thing at several times.
   */
  quantity: nameSchema.optional(),
  kind: z.enum(measurementKinds),
  /** As shown: g, leaves, mm… */
  unit: z.string().trim().max(20),
  decimals: z.int().min(0).max(4),
  timepoint: z.enum(['start', 'interim', 'harvest']),
  date: dateSchema.nullable(),
  /** Outside these a value is taken for a slip and asked about. */
  lowest: z.number().nullable(),
  highest: z.number().nullable(),
  scale: scaleSchema.optional(),
  /**
   * Of lengths: whether they are heights of plants above their pot, which the light follows. Absent:
   * where the name says height.
   */
  plantHeight: z.boolean().optional(),
});

export const blocksSchema = z.discriminatedUnion('by', [
  z.strictObject({ by: z.literal('none') }),
  z.strictObject({ by: z.literal('shelf') }),
  z.strictObject({ by: z.literal('bay') }),
  z.strictObject({ by: z.literal('tray') }),
  z.strictObject({ by: z.literal('tray-halves') }),
  z.strictObject({ by: z.literal('tray-quarters') }),
  /** Bands of pot rows (front to back) or columns (left to right) within each bay. */
  z.strictObject({ by: z.literal('rows'), perBlock: z.int().min(1).max(200) }),
  z.strictObject({ by: z.literal('columns'), perBlock: z.int().min(1).max(200) }),
  /** Equal-size bands of pots along the light they receive, over the whole rack. */
  z.strictObject({ by: z.literal('light'), bands: z.int().min(2).max(200) }),
]);

export const schemes = [
  'completely-randomised',
  'complete-blocks',
  'split-plot',
  'latin-square',
  'row-and-column',
  'incomplete-blocks',
  'strip-plot',
] as const;
export const schemeSchema = z.enum(schemes);
export const schemeLabels: Record<Scheme, string> = {
  'completely-randomised': 'completely randomised',
  'complete-blocks': 'randomised complete blocks',
  'split-plot': 'split plot',
  'latin-square': 'Latin square',
  'row-and-column': 'rows and columns',
  'incomplete-blocks': 'incomplete blocks',
  'strip-plot': 'strip plot',
};

/** What sets the schemes apart; whatever decides by a scheme asks for one of these. */
export interface SchemeTraits {
  /** A group's treatments: equal shares shuffled, squares side by side, even lines, or a design. */
  draw: 'shares' | 'squares' | 'lines' | 'design';
  /** Randomises within the trial's blocks. */
  blocks?: true;
  /** Lays treatments along rows and columns. */
  grid?: true;
  /** Pots are drawn by a free shuffle within groups. */
  shuffled?: true;
  /** Factors on larger units are drawn first, those on smaller ones within them. */
  nested?: true;
  /** Factors on strips cross within blocks. */
  strips?: true;
  /** A block need not hold every treatment. */
  incomplete?: true;
  /** Means to have groups that hold no multiple of the treatments. */
  anySize?: true;
}
export const schemeTraits: Record<Scheme, SchemeTraits> = {
  'completely-randomised': { draw: 'shares', shuffled: true },
  'complete-blocks': { draw: 'shares', blocks: true, shuffled: true },
  'split-plot': { draw: 'shares', blocks: true, shuffled: true, nested: true },
  'latin-square': { draw: 'squares', blocks: true, grid: true },
  'row-and-column': { draw: 'lines', blocks: true, grid: true, anySize: true },
  'incomplete-blocks': { draw: 'design', blocks: true, incomplete: true, anySize: true },
  'strip-plot': { draw: 'shares', blocks: true, strips: true },
};

export const constraintSchema = z.strictObject({
  /** Share of candidate draws that are acceptable; 1 takes the first draw. */
  acceptanceShare: z.number().gt(0).max(1),
  balance: z.array(z.enum(['light', 'position', 'start'])),
  /** At most this many pots of one treatment side by side in a row or column; null: no cap. */
  likeNeighbours: z.int().min(1).max(50).nullable(),
});

/** How position enters the analysis; fixed in the plan before harvest. */
export const positionModels = [
  'none',
  'edge',
  'light',
  'linear',
  'rows+columns',
  'smooth',
  'ar1',
] as const;
export const positionModelSchema = z.enum(positionModels);
/** In lists, and after "with" in a sentence. */
export const positionModelLabels: Record<PositionModel, string> = {
  none: 'no correction for place',
  edge: 'edge and inner pots told apart',
  light: 'the light at each pot',
  linear: 'a linear trend over rows and columns',
  'rows+columns': 'rows and columns of each tray',
  smooth: 'a smooth surface over each tray',
  ar1: 'neighbouring pots alike',
};
/** What each of them takes of the pots: of their places, no more than slopes over them or all. */
export const positionTakes: Record<
  PositionModel,
  'nothing' | 'edge' | 'light' | 'slopes' | 'places'
> = {
  none: 'nothing',
  edge: 'edge',
  light: 'light',
  linear: 'slopes',
  'rows+columns': 'places',
  smooth: 'places',
  ar1: 'places',
};

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
export type Scale = z.infer<typeof scaleSchema>;
export type Contrast = z.infer<typeof contrastSchema>;
export type Factor = z.infer<typeof factorSchema>;
export type Measurement = z.infer<typeof measurementSchema>;
export type Blocks = z.infer<typeof blocksSchema>;
export type Scheme = z.infer<typeof schemeSchema>;
export type Constraint = z.infer<typeof constraintSchema>;
export type PositionModel = z.infer<typeof positionModelSchema>;
export type Trial = z.infer<typeof trialSchema>;
