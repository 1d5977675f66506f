import { emptyPlan } from '../../renderer/document/new';
import type { FloodPlan, FloodZone } from '../../shared-types/flood';
import type { Plan } from '../../shared-types/plan';
import type { Shelf, Tray } from '../../shared-types/rack';

/**
 * Four flaws of flooding in one rack: a siphon that the pump cannot start (1A), one that it keeps
 * from breaking (1B), a tray whose overflow is too narrow (2A), and a shelf over its rating (2).
 */
function tray(id: string, letter: string, xMm: number): Tray {
  return {
    id,
    letter,
    xMm,
    yMm: 20,
    widthMm: 560,
    depthMm: 560,
    rimHeightMm: 70,
    grid: {
      pattern: 'square',
      rows: 4,
      columns: 4,
      pitchXMm: 130,
      pitchYMm: 130,
      potDiameterMm: 110,
      potHeightMm: 100,
      firstXMm: 85,
      firstYMm: 85,
      guardRing: false,
      guards: [],
      empty: [],
    },
  };
}

function shelf(number: number, trays: Tray[], ratedLoadKg: number): Shelf {
  return {
    id: `s${number}`,
    number,
    widthMm: 1200,
    depthMm: 600,
    heightMm: 300 + (number - 1) * 550,
    clearanceMm: 500,
    ratedLoadKg,
    canopy: { plantingMm: 130, harvestMm: 280 },
    reflectances: { above: 0.6, canopy: 0.08, front: 0, back: 0.8, left: 0, right: 0 },
    trays,
    lamps: [150, 300, 450].map((yMm, i) => ({
      id: `l${number * 10 + i}`,
      kindId: 'k3',
      xMm: 600,
      yMm,
      zMm: 470,
      rotationDeg: 0,
      tiltDeg: 0,
      dimming: 1,
      group: `shelf ${number}`,
    })),
  };
}

function zone(
  id: string,
  trayId: string,
  code: string,
  flowLMin: number,
  drain: FloodZone['drain'],
): FloodZone {
  return {
    id,
    name: `tray ${code}`,
    trayIds: [trayId],
    reservoirL: 50,
    deadVolumeL: 3,
    reservoirLevelMm: 200,
    pump: {
      name: `pump ${code}`,
      curve: [
        { headM: 0, flowLMin: Number((flowLMin * 1.4).toFixed(1)) },
        { headM: 2, flowLMin: Number((flowLMin * 0.6).toFixed(1)) },
        { headM: 2.5, flowLMin: 0 },
      ],
      powerW: 30,
    },
    pipe: { lengthM: 2, boreMm: 25, lossFactor: 3 },
    drain,
    dischargeCoefficient: 0.61,
    floodDepthMm: 45,
    residualMm: 5,
    schedule: [{ startHour: 6, endHour: 21, everyMinutes: 180, onMinutes: 12 }],
  };
}

const siphon = { kind: 'siphon', dropMm: 250, lossFactor: 4 } as const;

const flood: FloodPlan = {
  zones: [
    zone('z60', 't41', '1A', 3, { ...siphon, boreMm: 20, tripFlowLMin: 6 }),
    zone('z61', 't42', '1B', 9.7, { ...siphon, boreMm: 16, tripFlowLMin: 4 }),
    zone('z62', 't43', '2A', 18, {
      kind: 'standpipe',
      overflowBoreMm: 20,
      returnBoreMm: 20,
      returnThrough: 'pump',
    }),
    zone('z63', 't44', '2B', 8, {
      kind: 'standpipe',
      overflowBoreMm: 40,
      returnBoreMm: 20,
      returnThrough: 'pump',
    }),
  ],
  media: [
    {
      id: 'd70',
      name: 'bark and pumice',
      porosity: 0.7,
      dryDensityKgM3: 350,
      waterAtDrainShare: 0.35,
      trayIds: ['t41', 't42', 't43', 't44'],
    },
  ],
  rootZoneTopMm: 90,
  leafLineMm: 130,
  leastWetShare: 0.3,
  use: { uptakeMlPerPotDay: 80, evaporationMmDay: 2, topUpDays: 2 },
  slopes: [],
  trayMassKg: 4,
  circuits: [
    {
      id: 'c71',
      name: 'rack socket',
      breakerA: 10,
      voltageV: 230,
      powerFactor: 0.95,
      shelfIds: ['s1', 's2'],
      zoneIds: ['z60', 'z61', 'z62', 'z63'],
      otherW: 0,
    },
  ],
};

export function waterExample(): Plan {
  const empty = emptyPlan('Four floods gone wrong');
  return {
    ...empty,
    // Light is not what this example is about.
    light: { ...empty.light, lowestMinToMean: 0.4 },
    notes: 'Made-up example. Trays 1A, 1B and 2A and shelf 2 each have a flaw in their flooding.',
    nextId: 100,
    rack: {
      shelves: [
        shelf(1, [tray('t41', 'A', 20), tray('t42', 'B', 610)], 120),
        shelf(2, [tray('t43', 'A', 20), tray('t44', 'B', 610)], 45),
      ],
      lampKinds: [
        {
          id: 'k3',
          name: 'White strip, 1150 mm',
          shape: 'strip',
          lengthMm: 1150,
          widthMm: 20,
          emission: { kind: 'lambertian' },
          output: { kind: 'watts', efficacyUmolJ: 2.4 },
          powerW: 30,
          massKg: 0.8,
        },
      ],
    },
    flood,
  };
}
