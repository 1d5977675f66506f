import { z } from 'zod';
import { nameSchema, textSchema } from '../basics';
import { lampKindSchema } from '../rack';
import { applications, type Application, type UnitKind } from '../trial/trial';
import { measurementSchema } from '../trial/measurement';

/** What is typed to begin a plan: a rack of like shelves, what is compared, what is measured. */

/** Whole shelves of water are tubs; both stand beside each other in equal parts of a shelf. */
export const vessels = ['tray', 'tub'] as const;
export type Vessel = (typeof vessels)[number];
export const vesselWords: Record<Vessel, { one: string; many: string; rimMm: number }> = {
  tray: { one: 'tray', many: 'trays', rimMm: 60 },
  tub: { one: 'tub', many: 'tubs', rimMm: 150 },
};

/** What gets its own treatment. `zone`: one reservoir for each level, over shelves in turn. */
export const quickUnits = ['shelf', 'tray', 'pot', 'zone'] as const satisfies readonly UnitKind[];
export type QuickUnit = (typeof quickUnits)[number];

/** Units that can differ, and before all others the one that is usual. */
export const quickUnitsOf: Record<Application, readonly QuickUnit[]> = {
  light: ['shelf'],
  water: ['shelf', 'tray', 'zone'],
  medium: ['pot', 'tray', 'shelf'],
  plant: ['pot', 'tray', 'shelf'],
  hand: ['pot', 'tray', 'shelf'],
};

export const quickFactorSchema = z.strictObject({
  name: nameSchema,
  /** As typed: `bright`, `dim 60 %`. */
  levels: z.array(nameSchema).min(1).max(40),
  through: z.enum(applications),
  unit: z.enum(quickUnits),
});

export const quickMeasuredSchema = z.strictObject({
  name: nameSchema,
  kind: measurementSchema.shape.kind,
  unit: measurementSchema.shape.unit,
  start: z.boolean(),
  between: z.boolean(),
  harvest: z.boolean(),
});

/** Racks that one page can tell of; larger ones are drawn. */
export const quickLimits = {
  shelves: { lowest: 1, highest: 12 },
  sideMm: { lowest: 200, highest: 5000 },
  clearanceMm: { lowest: 100, highest: 3000 },
  vessels: { lowest: 1, highest: 8 },
  grid: { lowest: 1, highest: 60 },
  potMm: { lowest: 15, highest: 1000 },
  lamps: { lowest: 0, highest: 20 },
} as const;

const whole = ({ lowest, highest }: { lowest: number; highest: number }) =>
  z.int().min(lowest).max(highest);
const within = ({ lowest, highest }: { lowest: number; highest: number }) =>
  z.number().min(lowest).max(highest);

export const quickAnswersSchema = z.strictObject({
  shelves: whole(quickLimits.shelves),
  widthMm: within(quickLimits.sideMm),
  depthMm: within(quickLimits.sideMm),
  clearanceMm: within(quickLimits.clearanceMm),
  vessel: z.enum(vessels),
  /** On each shelf, side by side. */
  vessels: whole(quickLimits.vessels),
  /** Pots in each tray: across and from front to back. */
  columns: whole(quickLimits.grid),
  rows: whole(quickLimits.grid),
  potMm: within(quickLimits.potMm),
  /** null: nine tenths of its width, as round nursery pots are. */
  potHeightMm: within(quickLimits.potMm).nullable(),
  /** Over each shelf. */
  lamps: whole(quickLimits.lamps),
  lamp: lampKindSchema.omit({ id: true }),
  question: textSchema,
  factors: z.array(quickFactorSchema).max(6),
  measured: z.array(quickMeasuredSchema).max(12),
  /** Name of the measurement whose value at harvest answers the question. */
  main: z.string(),
});

export type QuickAnswers = z.infer<typeof quickAnswersSchema>;
export type QuickFactor = z.infer<typeof quickFactorSchema>;
export type QuickMeasured = z.infer<typeof quickMeasuredSchema>;
