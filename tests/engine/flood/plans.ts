import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import type { Tray } from '../../../shared-types/rack';
import { gridOf, kindOf, lampOf, planOf, shelfOf, trayOf } from '../../builders/rackParts';

/** Plans of one shelf with one tray, t11, flooded by one zone, z30; sound unless changed. */

export function aTray(change: Partial<Tray> = {}): Tray {
  return trayOf({ id: 't11', grid: gridOf({ potHeightMm: 100 }), ...change });
}

/** A pump that gives 10 L/min at any head up to 2 m, through a pipe that loses nothing to speak of. */
export function aZone(change: Partial<FloodZone> = {}): FloodZone {
  return {
    id: 'z30',
    name: 'zone 1',
    trayIds: ['t11'],
    reservoirL: 60,
    deadVolumeL: 0,
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
    floodDepthMm: 40,
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
  const lamps = Array.from({ length: more.lamps ?? 0 }, (_, i) =>
    lampOf({ id: `l${40 + i}`, kindId: 'k5', yMm: 100 + 150 * i }),
  );
  const shelf = shelfOf({
    id: 's10',
    heightMm: more.heightMm ?? 600,
    ratedLoadKg: more.ratedKg ?? null,
    canopy: { plantingMm: 110, harvestMm: 250 },
    trays: [tray],
    lamps,
  });
  const kind = kindOf({
    id: 'k5',
    lengthMm: 1150,
    output: { kind: 'watts', efficacyUmolJ: 2.5 },
    massKg: more.lampKg ?? 1,
  });
  return { ...planOf('flood', { shelves: [shelf], lampKinds: [kind] }), flood };
}
