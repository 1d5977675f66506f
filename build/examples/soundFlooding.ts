import type { FloodPlan, FloodZone } from '../../shared-types/flood';
import type { Shelf, Tray } from '../../shared-types/rack';

function can(s: Shelf, t: Tray, i: number): FloodZone {
  return {
    id: `z${70 + (s.number - 1) * 3 + i}`,
    name: `can of ${s.number}${t.letter}`,
    trayIds: [t.id],
    reservoirL: 20,
    deadVolumeL: 1.5,
    // The cans stand on the floor in front of the rack.
    reservoirLevelMm: 150,
    pump: {
      name: 'small pump',
      curve: [
        { headM: 0, flowLMin: 10 },
        { headM: 1, flowLMin: 7 },
        { headM: 2, flowLMin: 0 },
      ],
      powerW: 12,
    },
    pipe: { lengthM: 2.5, boreMm: 16, lossFactor: 3 },
    drain: {
      kind: 'standpipe',
      overflowBoreMm: 40,
      returnBoreMm: 16,
      returnThrough: 'pump',
    },
    dischargeCoefficient: 0.61,
    floodDepthMm: 32,
    residualMm: 2,
    // One can after the other, so that two pumps at most run at once.
    schedule: [
      {
        startHour: 7 + ((s.number - 1) * 3 + i) / 6,
        endHour: 21,
        everyMinutes: 240,
        onMinutes: 10,
      },
    ],
  };
}

/** Every tray floods from a can of its own, with a small pump: one zone a tray. */
export function soundFlooding(shelves: readonly Shelf[]): FloodPlan {
  const zones = shelves.flatMap((s) => s.trays.map((t, i) => can(s, t, i)));
  return {
    zones,
    media: [
      {
        id: 'd80',
        name: 'peat and perlite',
        porosity: 0.88,
        dryDensityKgM3: 110,
        waterAtDrainShare: 0.55,
        trayIds: shelves.flatMap((s) => s.trays.map((t) => t.id)),
      },
    ],
    rootZoneTopMm: 70,
    leafLineMm: 110,
    leastWetShare: 0.3,
    use: { uptakeMlPerPotDay: 60, evaporationMmDay: 2, topUpDays: 2 },
    slopes: [{ trayId: 't22', rightMmPerM: 4, backMmPerM: 2, drainAt: 'lowest' }],
    trayMassKg: 3,
    circuits: [
      {
        id: 'c81',
        name: 'wall socket left',
        breakerA: 16,
        voltageV: 230,
        powerFactor: 0.95,
        shelfIds: shelves.map((s) => s.id),
        zoneIds: zones.map((z) => z.id),
        otherW: 0,
      },
    ],
  };
}
