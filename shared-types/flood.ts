import { z } from 'zod';
import { coordinateMm, idSchema, lengthMm, nameSchema, positiveMm, share } from './basics';

export const pumpSchema = z.strictObject({
  name: nameSchema,
  /** Head (m) and flow (L/min) pairs, flow falling as head rises. One pair: rated flow at head. */
  curve: z
    .array(
      z.strictObject({ headM: z.number().min(0).max(50), flowLMin: z.number().min(0).max(1000) }),
    )
    .min(1)
    .max(200),
  powerW: z.number().min(0).max(5000),
});

/** Bell siphon: trips at the crest, runs full, breaks when air enters at the residual depth. */
export const siphonSchema = z.strictObject({
  kind: z.literal('siphon'),
  boreMm: positiveMm,
  /** From the tray's floor down to the free outlet. */
  dropMm: positiveMm,
  /** Entry, bends and friction together, in velocity heads. */
  lossFactor: z.number().min(0).max(100),
  /** Least inflow that fills the crown of the tube; null: nobody has tried it yet. */
  tripFlowLMin: z.number().gt(0).max(1000).nullable(),
});

export const drainSchema = z.discriminatedUnion('kind', [
  /**
   * Overflow pipe at the crest. The tray runs empty back through the pump once that stands still,
   * or through a hole at the pipe's foot that is always open and also leaks while filling.
   */
  z.strictObject({
    kind: z.literal('standpipe'),
    overflowBoreMm: positiveMm.default(40),
    returnBoreMm: positiveMm,
    returnThrough: z.enum(['pump', 'hole']).default('pump'),
  }),
  siphonSchema,
  /** Shut while the pump runs, open while it stands still. */
  z.strictObject({ kind: z.literal('valve'), boreMm: positiveMm }),
]);

/** Hours of the day between which the pump starts every so often. */
export const floodWindowSchema = z.strictObject({
  startHour: z.number().min(0).max(24),
  endHour: z.number().min(0).max(24),
  everyMinutes: z.number().gt(0).max(1440),
  onMinutes: z.number().gt(0).max(1440),
});

export const floodZoneSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  trayIds: z.array(idSchema),
  reservoirL: z.number().gt(0).max(100_000),
  /** Water at the reservoir's bottom that the pump cannot reach. */
  deadVolumeL: z.number().min(0).max(100_000).default(0),
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
  floodDepthMm: positiveMm,
  /** Water that never drains. */
  residualMm: lengthMm,
  schedule: z.array(floodWindowSchema),
});

/** A medium in the pots, as far as water and weight need it. */
export const mediumSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /** Share of a pot's volume that water can fill. */
  porosity: share,
  dryDensityKgM3: z.number().gt(0).max(5000),
  /** Share of a pot's volume that stays filled with water after draining. */
  waterAtDrainShare: share,
  trayIds: z.array(idSchema),
});

export const floodPlanSchema = z.strictObject({
  zones: z.array(floodZoneSchema),
  media: z.array(mediumSchema),
  /** From the tray's floor. */
  rootZoneTopMm: lengthMm,
  leafLineMm: lengthMm,
  /** Least share of the root zone's height that a flood must wet; the medium draws up the rest. */
  leastWetShare: share.default(0.3),
  /** The person's own estimate of the water that goes between two top-ups of a reservoir. */
  use: z
    .strictObject({
      uptakeMlPerPotDay: z.number().min(0).max(10_000),
      /** From open water, while there is any in the tray. */
      evaporationMmDay: z.number().min(0).max(100),
      topUpDays: z.number().gt(0).max(365),
    })
    .default({ uptakeMlPerPotDay: 50, evaporationMmDay: 2, topUpDays: 1 }),
  /** Fall across a tray, mm per m, rising to the right and to the back. */
  slopes: z.array(
    z.strictObject({
      trayId: idSchema,
      rightMmPerM: z.number().min(-100).max(100),
      backMmPerM: z.number().min(-100).max(100),
      /** Where on the slope the drain stands; crest and residual depth are measured there. */
      drainAt: z.enum(['lowest', 'middle', 'highest']).default('lowest'),
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
export type FloodWindow = z.infer<typeof floodWindowSchema>;
export type Slope = FloodPlan['slopes'][number];
export type Circuit = FloodPlan['circuits'][number];
export type FloodZone = z.infer<typeof floodZoneSchema>;
export type Medium = z.infer<typeof mediumSchema>;
export type FloodPlan = z.infer<typeof floodPlanSchema>;
