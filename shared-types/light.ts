import { z } from 'zod';
import { coordinateMm, dateSchema, idSchema, lengthMm, share, textSchema } from './basics';
import { luxSpectra } from './luxSpectra';

const luxPerPpfd = z.number().min(0.01).max(1000);

/** A meter reading at a point over a shelf. */
export const readingSchema = z.strictObject({
  id: idSchema,
  shelfId: idSchema,
  xMm: coordinateMm,
  yMm: coordinateMm,
  zMm: lengthMm,
  value: z.number().min(0).max(1_000_000),
  unit: z.enum(['ppfd', 'lux']),
  /** Needed where the unit is lux. */
  luxPerPpfd: luxPerPpfd.nullable(),
  /** The light's spectrum, where the unit is lux; absent: not said. */
  spectrum: z.enum(luxSpectra).optional(),
  /** Between which the factor lies, 95 of 100; absent: as wide, in %, as for white LED. */
  luxRange: z.strictObject({ lowest: luxPerPpfd, highest: luxPerPpfd }).optional(),
  date: dateSchema.nullable(),
  note: textSchema,
  /** Of what the shelf's light was made when it was read, in short; absent: as it is now. */
  of: z.string().min(1).max(40).optional(),
  /**
   * PPFD that the lamps' figures gave there when it was read, so that the reading says something of the
   * lamps after they are changed; absent: it holds for the lamps it was taken of alone.
   */
  estimateUmol: z.number().min(1e-6).max(1e6).optional(),
  /** The earlier run in which it was taken; absent: the run in hand. */
  takenIn: idSchema.optional(),
});

/** Where a tray stands for a while: in the place of a tray as drawn, perhaps turned half round. */
export const trayPlaceSchema = z.strictObject({
  /** Id of the tray whose drawn place it takes; its own where it stays. */
  placeOf: idSchema,
  /** Front to back. */
  turned: z.boolean(),
});

const trialDay = z.int().min(1).max(5000);

/** Days of the trial counted from 1, both ends included. Trays not named stand as drawn. */
export const rotaPeriodSchema = z.strictObject({
  fromDay: trialDay,
  toDay: trialDay,
  places: z.record(idSchema, trayPlaceSchema),
});

/** What the person asks of the light, and what the analysis needs to know about it. */
export const lightPlanSchema = z.strictObject({
  photoperiodHours: z.number().min(0).max(24),
  /** Which canopy height the trial's light figures refer to. */
  canopyAt: z.enum(['planting', 'harvest', 'midway']),
  targetPpfdUmol: z
    .strictObject({ lowest: z.number().min(0).max(5000), highest: z.number().min(0).max(5000) })
    .nullable(),
  /** Lowest min:mean within a block or tray before the program warns. */
  lowestMinToMean: share,
  readings: z.array(readingSchema),
  electricityPricePerKwh: z.number().min(0).max(100).nullable(),
  currency: z.string().max(8),
  /** Tray moves during the trial, one period after the other, where trays are moved. */
  rota: z.array(rotaPeriodSchema).max(1000).optional(),
});

export type LightReading = z.infer<typeof readingSchema>;
export type TrayPlace = z.infer<typeof trayPlaceSchema>;
export type RotaPeriod = z.infer<typeof rotaPeriodSchema>;
export type LightPlan = z.infer<typeof lightPlanSchema>;
