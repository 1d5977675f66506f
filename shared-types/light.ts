import { z } from 'zod';
import { coordinateMm, dateSchema, idSchema, lengthMm, share, textSchema } from './basics';

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
  luxPerPpfd: z.number().gt(0).max(1000).nullable(),
  date: dateSchema.nullable(),
  note: textSchema,
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
});

export type LightReading = z.infer<typeof readingSchema>;
export type LightPlan = z.infer<typeof lightPlanSchema>;
