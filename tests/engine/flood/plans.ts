import { emptyPlan } from '../../../renderer/document/new';
import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import type { Tray } from '../../../shared-types/rack';

/** Plans of one shelf with one tray, t11, flooded by one zone, z30; sound unless changed. */

export function aTray(change: Partial<Tray> = {}): Tray {
  return {
    id: 't11',
    letter: 'A',
    xMm: 0,
    yMm: 0,
    widthMm: 1200,
    depthMm: 600,
    rimHeightMm: 60,
    grid: {
      pattern: 'square',
      rows: 3,
      columns: 6,
      pitchXMm: 200,
      pitchYMm: 200,
      potDiameterMm: 100,
      potHeightMm: 100,
      firstXMm: 100,
      firstYMm: 100,
      guardRing: false,
      guards: [],
      empty: [],
    },
    ...change,
  };
}

/** A pump that gives 10 L/min at any head up to 2 m, through a pipe that loses nothing to speak of. */
export function aZone(change: Partial<FloodZone> = {}): FloodZone {
  return {
    id: 'z30',
    name: 'zone 1',
    trayIds: ['t11'],
    reservoirL: 60,
    heelL: 0,
    reservoirLevelMm: 200,
    pump: { name: 'pump', curve: [{ headM: 2, flowLMin: 10 }], powerW: 20 },
    pipe: { lengthM: 1, boreMm: 40, lossFactor: 0 },
    drain: {
      kind: 'standpipe',
      overflowBoreMm: 40,
      returnBoreMm: 20,
      returnThrough: 'pump',
    },
    dischargeCoefficient: 0.61,
    crestMm: 40,
    residualMm: 2,
    schedule: [{ startHour: 6, endHour: 22, everyMinutes: 240, onMinutes: 15 }],
    ...change,
  };
}

export function aFlood(change: Partial<FloodPlan> = {}, zone: Partial<FloodZone> = {}): FloodPlan {
  return {
    zones: [aZone(zone)],
    media: [],
    rootZoneTopMm: 80,
    leafLineMm: 120,
    leastWetShare: 0.3,
    use: { uptakeMlPerPotDay: 50, evaporationMmDay: 2, topUpDays: 1 },
    slopes: [],
    trayMassKg: 6,
    circuits: [],
    ...change,
  };
}

export function aPlan(
  tray: Tray,
  flood: FloodPlan,
  more: { lamps?: number; lampKg?: number; ratedKg?: number; heightMm?: number } = {},
): Plan {
  const lamps = Array.from({ length: more.lamps ?? 0 }, (_, i) => ({
    id: `l${40 + i}`,
    kindId: 'k5',
    xMm: 600,
    yMm: 100 + 150 * i,
    zMm: 400,
    rotationDeg: 0,
    tiltDeg: 0,
    dimming: 1,
    group: 'shelf 1',
  }));
  return {
    ...emptyPlan('flood'),
    nextId: 100,
    rack: {
      shelves: [
        {
          id: 's10',
          number: 1,
          widthMm: 1200,
          depthMm: 600,
          heightMm: more.heightMm ?? 600,
          clearanceMm: 450,
          ratedLoadKg: more.ratedKg ?? null,
          canopy: { plantingMm: 110, harvestMm: 250 },
          reflectances: { above: 0.5, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 },
          trays: [tray],
          lamps,
        },
      ],
      lampKinds: [
        {
          id: 'k5',
          name: 'strip',
          shape: 'strip',
          lengthMm: 1150,
          widthMm: 20,
          emission: { kind: 'lambertian' },
          output: { kind: 'watts', efficacyUmolJ: 2.5 },
          powerW: 40,
          massKg: more.lampKg ?? 1,
        },
      ],
    },
    flood,
  };
}
