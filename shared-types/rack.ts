import { z } from 'zod';
import {
  angleDeg,
  coordinateMm,
  idSchema,
  lengthMm,
  nameSchema,
  positiveMm,
  share,
} from './basics';
import { drainPlaces, leadEnds } from './landmarks';

/**
 * The rack as it stands in the room. Shelf axes, seen from above standing in front: x to the
 * right, y to the back, z up from the shelf's surface; origin at the front left corner. mm.
 */

/** Pots in one tray. Rows run left to right and are counted from the front (A is nearest). */
export const potGridSchema = z.strictObject({
  pattern: z.enum(['square', 'staggered']),
  rows: z.int().min(1).max(200),
  columns: z.int().min(1).max(200),
  /** Centre to centre along x, and from row to row along y. */
  pitchXMm: positiveMm,
  pitchYMm: positiveMm,
  potDiameterMm: positiveMm,
  potHeightMm: positiveMm,
  /** Centre of the front left pot, from the tray's front left corner. */
  firstXMm: coordinateMm,
  firstYMm: coordinateMm,
  /** Treat the outermost ring as guard pots. */
  guardRing: z.boolean(),
  /** Hand-picked guard pots and empty holes, as `row:column`, counted from 1. */
  guards: z.array(z.string().regex(/^[0-9]+:[0-9]+$/)),
  empty: z.array(z.string().regex(/^[0-9]+:[0-9]+$/)),
});

/** Height of the leaves' tops above the shelf's surface, as planted and at harvest. */
export const canopySchema = z.strictObject({ plantingMm: lengthMm, harvestMm: lengthMm });

export const traySchema = z.strictObject({
  id: idSchema,
  /** Letter within the shelf; part of every pot's code. */
  letter: z.string().regex(/^[A-Z]{1,2}$/, 'a letter such as A'),
  xMm: coordinateMm,
  yMm: coordinateMm,
  widthMm: positiveMm,
  depthMm: positiveMm,
  rimHeightMm: positiveMm,
  grid: potGridSchema.nullable(),
  /** Of the plants in this tray; absent: as the shelf says. */
  canopy: canopySchema.optional(),
  /** Absent: not said. */
  drainPlace: z.enum(drainPlaces).optional(),
});

/** What a lamp's lit face is: a line, a rectangle, a point. */
export const lampShapes = ['strip', 'panel', 'spot'] as const;
export type LampShape = (typeof lampShapes)[number];
export const lampShapeWords: Record<LampShape, string> = {
  strip: 'strip',
  panel: 'panel',
  spot: 'spot',
};

/** How a lamp's light leaves it. */
export const emissionSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('lambertian') }),
  /** cosⁿ with the full angle between half-peak directions. */
  z.strictObject({ kind: z.literal('beam'), fullAngleDeg: z.number().min(1).max(179) }),
  /** Photometric file kept whole in the plan. */
  z.strictObject({
    kind: z.literal('file'),
    fileName: z.string().max(260),
    text: z.string().max(2_000_000),
  }),
]);

export const emissionKinds = emissionSchema.options.map(({ shape }) => shape.kind.value);
export const emissionWords: Record<Emission['kind'], string> = {
  lambertian: 'flat face (Lambertian)',
  beam: 'beam',
  file: 'photometric file',
};

// The largest real lamp gives some 10⁴ µmol/s; 555 nm light has 147 lm to the µmol/s, and 400 or
// 700 nm light less than 1. The bounds leave room and keep every figure that follows finite.
const lumensPerUmol = z.number().min(0.01).max(1000);

/** How much light a lamp gives: what the maker states of it. */
export const outputSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('photons'), fluxUmolS: z.number().min(1e-6).max(100_000) }),
  z.strictObject({ kind: z.literal('watts'), efficacyUmolJ: z.number().min(1e-6).max(100) }),
  z.strictObject({
    kind: z.literal('lumens'),
    lumens: z.number().min(1e-6).max(10_000_000),
    /** Lumens per µmol s⁻¹ (the same figure as lux per PPFD), with its published range. */
    lumensPerUmolS: lumensPerUmol,
    lowest: lumensPerUmol,
    highest: lumensPerUmol,
  }),
]);
export const outputKinds = outputSchema.options.map(({ shape }) => shape.kind.value);
export const outputWords: Record<LampOutput['kind'], string> = {
  photons: 'photon flux',
  watts: 'watts × efficacy',
  lumens: 'lumens',
};

/** One model of lamp, of which the rack may carry many. */
export const lampKindSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  shape: z.enum(lampShapes),
  /** Of the lit face, along x and along y. Which of them act is the shape's affair. */
  lengthMm,
  widthMm: lengthMm,
  emission: emissionSchema,
  output: outputSchema,
  powerW: z.number().min(0).max(20_000),
  /** Share of the light that is lost in 1,000 burnt hours; absent: none is counted. */
  lossPer1000h: z.number().min(0).max(0.5).optional(),
  massKg: z.number().min(0).max(200),
});

/** A lamp hung over a shelf: the centre of its emitting face. */
export const lampSchema = z.strictObject({
  id: idSchema,
  kindId: idSchema,
  xMm: coordinateMm,
  yMm: coordinateMm,
  /** Height of the emitting face above the shelf's surface. */
  zMm: lengthMm,
  /** Turn about the vertical, anticlockwise from above; 0 lays its length along x. */
  rotationDeg: angleDeg,
  /** Tip about its length; 0 faces straight down. */
  tiltDeg: angleDeg,
  /** 1 is full output. */
  dimming: share,
  /** Lamps that share a group are scaled together by meter readings. */
  group: z.string().max(40),
  /** Hours that it had burnt when the trial began; absent: 0. */
  burntHours: z.number().min(0).max(200_000).optional(),
  /** Absent: not said. */
  leadEnd: z.enum(leadEnds).optional(),
});

export const reflectancesSchema = z.strictObject({
  above: share,
  canopy: share,
  front: share,
  back: share,
  left: share,
  right: share,
});

export const sides = ['front', 'back', 'left', 'right'] as const;
export type Side = (typeof sides)[number];

/** PPFD of a room's own light, as a meter held upright at the side would read it. */
const roomPpfd = z.number().min(0).max(3000);

/** What a side of a shelf faces. */
export const facingSchema = z.discriminatedUnion('kind', [
  /** A board or film on the side itself, with the side's reflectance; 0: nothing is there. */
  z.strictObject({ kind: z.literal('matt') }),
  /** The same, of whose reflected light this share leaves as from a mirror. */
  z.strictObject({ kind: z.literal('foil'), specular: share }),
  /** A matt wall behind the open side. */
  z.strictObject({
    kind: z.literal('wall'),
    reflectance: share,
    distanceMm: z.number().min(1).max(5000),
  }),
  z.strictObject({ kind: z.literal('dark') }),
  z.strictObject({ kind: z.literal('lit'), lowestUmol: roomPpfd, highestUmol: roomPpfd }),
  /** The open side of another shelf, as high above the floor as it is, across a gap. */
  z.strictObject({
    kind: z.literal('shelf'),
    shelfId: idSchema,
    gapMm: z.number().min(0).max(5000),
  }),
]);
export const facingKinds = facingSchema.options.map(({ shape }) => shape.kind.value);
export const facingWords: Record<Facing['kind'], string> = {
  matt: 'board or film',
  foil: 'mirror-like foil',
  wall: 'wall behind',
  dark: 'dark room',
  lit: 'lit room',
  shelf: 'lit shelf',
};

const facingsSchema = z.strictObject({
  front: facingSchema.optional(),
  back: facingSchema.optional(),
  left: facingSchema.optional(),
  right: facingSchema.optional(),
});

/** Across: it parts left from right. Lengthwise: it parts front from back. */
export const boardDirections = ['across', 'lengthwise'] as const;
export const boardDirectionWords: Record<BoardDirection, string> = {
  across: 'across',
  lengthwise: 'lengthwise',
};

/** An opaque board that stands on a shelf from side to side and parts its light. */
export const boardSchema = z.strictObject({
  id: idSchema,
  direction: z.enum(boardDirections),
  /** Its middle: along x where it stands across, along y where it stands lengthwise. */
  atMm: positiveMm,
  thicknessMm: z.number().gt(0).max(200),
  /** Of both its faces. */
  reflectance: share,
  /** Its lower edge above the shelf's surface: trays, water and some light pass beneath. */
  downToMm: lengthMm,
});

/** A part of a shelf that shares its lamps and their timer. */
export const baySchema = z.strictObject({
  id: idSchema,
  /** Hours a day that its lamps burn; absent: as the light plan says for all. */
  photoperiodHours: z.number().min(0).max(24).optional(),
});

/** Quarter turns of a rack in its room, anticlockwise from above, in degrees. */
export const quarterTurns = [0, 90, 180, 270] as const;
export type QuarterTurn = (typeof quarterTurns)[number];

/**
 * Where a rack stands on the floor of its room. Room axes, seen from above: x to the right, y to the
 * back, origin at the room's front left corner. Shelves that stand alike are one rack.
 */
export const rackPlaceSchema = z.strictObject({
  /** Of the shelf's own front left corner. */
  xMm: coordinateMm,
  yMm: coordinateMm,
  /** 0: its front looks to the front of the room. */
  turnDeg: z.literal(quarterTurns),
});

/** Share of light that a surface of a room gives back; absent: not known, and the ± is wider. */
const roomSurface = share.optional();

/** A closed room with matt surfaces, in which the racks stand. */
export const roomSchema = z.strictObject({
  widthMm: z.number().min(500).max(50_000),
  depthMm: z.number().min(500).max(50_000),
  heightMm: z.number().min(500).max(20_000),
  walls: roomSurface,
  floor: roomSurface,
  ceiling: roomSurface,
});

/** Far more shelves than stand in one room. */
export const MOST_SHELVES = 999;

export const shelfSchema = z.strictObject({
  id: idSchema,
  /** Counted from the lowest shelf; part of every pot's code. */
  number: z.int().min(1).max(MOST_SHELVES),
  widthMm: positiveMm,
  depthMm: positiveMm,
  /** Height of the shelf's surface above the floor. */
  heightMm: lengthMm,
  /** Where its rack stands in the room; absent: at 0, 0 and not turned. */
  stands: rackPlaceSchema.optional(),
  /** From the surface to the underside above. */
  clearanceMm: positiveMm,
  ratedLoadKg: z.number().gt(0).max(10_000).nullable(),
  canopy: canopySchema,
  reflectances: reflectancesSchema,
  /** What its sides face; absent: what the side's reflectance says, and no light from outside. */
  faces: facingsSchema.optional(),
  trays: z.array(traySchema),
  lamps: z.array(lampSchema),
  boards: z.array(boardSchema).max(20).optional(),
  /**
   * The parts that the boards make of the shelf: row by row from the front, from the left in each.
   * Absent: the shelf is one bay, with an id of the shelf's own number.
   */
  bays: z.array(baySchema).min(1).max(121).optional(),
});

export const rackSchema = z.strictObject({
  shelves: z.array(shelfSchema),
  lampKinds: z.array(lampKindSchema),
  /** The room that gives back what escapes the shelves; absent: nothing comes back. */
  room: roomSchema.optional(),
});

export type PotGrid = z.infer<typeof potGridSchema>;
export type Canopy = z.infer<typeof canopySchema>;
export type Tray = z.infer<typeof traySchema>;
export type Emission = z.infer<typeof emissionSchema>;
export type LampOutput = z.infer<typeof outputSchema>;
export type LampKind = z.infer<typeof lampKindSchema>;
export type Lamp = z.infer<typeof lampSchema>;
export type Reflectances = z.infer<typeof reflectancesSchema>;
export type Facing = z.infer<typeof facingSchema>;
export type BoardDirection = (typeof boardDirections)[number];
export type Board = z.infer<typeof boardSchema>;
export type ShelfBay = z.infer<typeof baySchema>;
export type RackPlace = z.infer<typeof rackPlaceSchema>;
export type Room = z.infer<typeof roomSchema>;
export type Shelf = z.infer<typeof shelfSchema>;
export type Rack = z.infer<typeof rackSchema>;
