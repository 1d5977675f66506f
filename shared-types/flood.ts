import { z } from 'zod';
import { coordinateMm, idSchema, lengthMm, nameSchema, positiveMm, share } from './basics';

export const pumpSchema = z.strictObject({
  name: nameSchema,
  /** Head (m) and flow (L/min) pairs, flow falling as head rises. One pair: rated flow at head. */
  curve: z.array(
    z.strictObject({ headM: z.number().min(0).max(50), flowLMin: z.number().min(0).max(1000) }),
  ),
  powerW: z.number().min(0).max(5000),
});

export const drainSchema = z.discriminatedUnion('kind', [
  /** Overflow pipe at the crest; the tray returns through the pump or a timed hole at its foot. */
  z.strictObject({ kind: z.literal('standpipe'), returnBoreMm: positiveMm }),
  z.strictObject({
    kind: z.literal('siphon'),
    boreMm: positiveMm,
    dropMm: positiveMm,
    lossFactor: z.number().min(0).max(100),
    /** Least inflow that fills the crown of the tube. */
    tripFlowLMin: z.number().gt(0).max(1000).nullable(),
  }),
  z.strictObject({ kind: z.literal('valve'), boreMm: positiveMm }),
]);

export const floodZoneSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  trayIds: z.array(idSchema),
  reservoirL: z.number().gt(0).max(100_000),
  /** Height of the reservoir's water above the floor. */
  reservoirLevelMm: coordinateMm,
  pump: pumpSchema,
  pipe: z.strictObject({
    lengthM: z.number().min(0).max(500),
    boreMm: positiveMm,
    lossFactor: z.number().min(0).max(1000),
  }),
  drain: drainSchema,
  dischargeCoefficient: z.number().gt(0).max(1),
  /** Water depth at which the drain trips or the standpipe overflows. */
  crestMm: positiveMm,
  /** Water that never drains. */
  residualMm: lengthMm,
  schedule: z.array(
    z.strictObject({
      startHour: z.number().min(0).max(24),
      endHour: z.number().min(0).max(24),
      everyMinutes: z.number().gt(0).max(1440),
      onMinutes: z.number().gt(0).max(1440),
    }),
  ),
});

/** A medium in the pots, as far as water and weight need it. */
export const mediumSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  porosity: share,
  dryDensityKgM3: z.number().gt(0).max(5000),
  waterAtDrainShare: share,
  trayIds: z.array(idSchema),
});

export const floodPlanSchema = z.strictObject({
  zones: z.array(floodZoneSchema),
  media: z.array(mediumSchema),
  /** From the tray's floor. */
  rootZoneTopMm: lengthMm,
  leafLineMm: lengthMm,
  /** Fall across a tray, mm per m, rising to the right and to the back. */
  slopes: z.array(
    z.strictObject({
      trayId: idSchema,
      rightMmPerM: z.number().min(-100).max(100),
      backMmPerM: z.number().min(-100).max(100),
    }),
  ),
  trayMassKg: z.number().min(0).max(500),
  circuits: z.array(
    z.strictObject({
      id: idSchema,
      name: nameSchema,
      breakerA: z.number().gt(0).max(1000),
      voltageV: z.number().gt(0).max(1000),
      powerFactor: z.number().gt(0).max(1),
      shelfIds: z.array(idSchema),
      zoneIds: z.array(idSchema),
      otherW: z.number().min(0).max(100_000),
    }),
  ),
});

export type Pump = z.infer<typeof pumpSchema>;
export type Drain = z.infer<typeof drainSchema>;
export type FloodZone = z.infer<typeof floodZoneSchema>;
export type Medium = z.infer<typeof mediumSchema>;
export type FloodPlan = z.infer<typeof floodPlanSchema>;
