import { emptyPlan } from '../../renderer/document/new';
import { potsOfRack } from '../../renderer/engine/geometry';
import { lightStamp } from '../../renderer/engine/lamps';
import { potLight, shelfLight } from '../../renderer/engine/light';
import { drawLayoutToKeep } from '../../renderer/engine/trial/draw/draw';
import { stream } from '../../renderer/engine/trial/stream';
import type { Plan } from '../../shared-types/plan';
import type { LightReading } from '../../shared-types/light';
import type { Lamp, PotGrid, Rack, Shelf, Tray } from '../../shared-types/rack';
import type { FloodPlan } from '../../shared-types/flood';
import type { Level, Trial } from '../../shared-types/trial';
import { engineVersion } from '../../renderer/derive/version';

/**
 * The demo: basil under three feed strengths, laid on whole trays, and four cultivars shuffled
 * within each tray; three shelves as blocks. The harvest is made up with the seed below from the
 * light at each pot, a shelf, a tray and a plant deviation, and true effects of feed and cultivar.
 */
const SEED = 'sage and basil';

const grid: PotGrid = {
  pattern: 'square',
  rows: 6,
  columns: 4,
  pitchXMm: 88,
  pitchYMm: 88,
  potDiameterMm: 80,
  potHeightMm: 80,
  firstXMm: 58,
  firstYMm: 60,
  guardRing: false,
  guards: [],
  empty: [],
};

function tray(id: string, letter: string, xMm: number): Tray {
  return { id, letter, xMm, yMm: 20, widthMm: 380, depthMm: 560, rimHeightMm: 60, grid };
}

function lamp(id: string, yMm: number, group: string): Lamp {
  return {
    id,
    kindId: 'k1',
    xMm: 600,
    yMm,
    zMm: 420,
    rotationDeg: 0,
    tiltDeg: 0,
    dimming: 1,
    group,
  };
}

function shelf(number: number): Shelf {
  const first = number * 10;
  return {
    id: `s${first}`,
    number,
    widthMm: 1200,
    depthMm: 600,
    heightMm: 250 + (number - 1) * 500,
    clearanceMm: 450,
    ratedLoadKg: 120,
    canopy: { plantingMm: 110, harvestMm: 260 },
    reflectances: { above: 0.6, canopy: 0.08, front: 0, back: 0.8, left: 0, right: 0 },
    trays: [
      tray(`t${first + 1}`, 'A', 10),
      tray(`t${first + 2}`, 'B', 410),
      tray(`t${first + 3}`, 'C', 810),
    ],
    lamps: [60, 220, 380, 540].map((y, i) => lamp(`l${first + 4 + i}`, y, `shelf ${number}`)),
  };
}

/** A strength of one and the same solution. */
const feed = (id: string, name: string, msCm: string): Level => ({
  id,
  name: `${name} (${msCm} mS/cm)`,
  settings: { through: 'water', solution: 'basil feed', ecMsCm: Number(msCm) },
});

const trial: Trial = {
  question:
    'Does a stronger feed give heavier basil, and is it worth it for each of the four cultivars? ' +
    'Every tray floods from a can of its own, so that feed is applied to single trays.',
  factors: [
    {
      id: 'f50',
      name: 'feed',
      kind: 'randomised',
      unit: 'tray',
      appliedThrough: 'water',
      levels: [
        feed('v51', 'weak', '1.0'),
        feed('v52', 'medium', '1.6'),
        feed('v53', 'strong', '2.2'),
      ],
      where: [],
    },
    {
      id: 'f54',
      name: 'cultivar',
      kind: 'randomised',
      unit: 'pot',
      appliedThrough: 'plant',
      levels: [
        { id: 'v55', name: 'Brookleaf' },
        { id: 'v56', name: 'Dunmarrow' },
        { id: 'v57', name: 'Purple Fen' },
        { id: 'v58', name: 'Tall Tansy' },
      ],
      where: [],
    },
  ],
  measurements: [
    {
      id: 'm60',
      name: 'Fresh weight',
      kind: 'weight',
      unit: 'g',
      decimals: 1,
      timepoint: 'start',
      date: '2026-03-02',
      lowest: 1,
      highest: 20,
    },
    {
      id: 'm61',
      name: 'Leaves',
      kind: 'count',
      unit: 'leaves',
      decimals: 0,
      timepoint: 'start',
      date: '2026-03-02',
      lowest: 0,
      highest: 30,
    },
    {
      id: 'm62',
      name: 'Fresh weight',
      kind: 'weight',
      unit: 'g',
      decimals: 1,
      timepoint: 'harvest',
      date: '2026-04-06',
      lowest: 5,
      highest: 120,
    },
    {
      id: 'm63',
      name: 'Leaves',
      kind: 'count',
      unit: 'leaves',
      decimals: 0,
      timepoint: 'harvest',
      date: '2026-04-06',
      lowest: 2,
      highest: 150,
    },
  ],
  blocks: { by: 'shelf' },
  scheme: 'split-plot',
  constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null },
  startDate: '2026-03-02',
  harvestDate: '2026-04-06',
  alpha: 0.05,
  primaryOutcomeId: 'm62',
  primaryIndex: 'final',
  primaryPosition: 'light',
  startCovariate: true,
  analysisLocked: { date: '2026-03-02', valuesThen: 0 },
  expected: { plantSd: 4, unitSd: 1, smallestDifference: 5, power: 0.8 },
};

/** Every tray floods from a can of its own, with a small pump: one zone a tray. */
function flooding(shelves: readonly Shelf[]): FloodPlan {
  const zones = shelves.flatMap((s) =>
    s.trays.map((t, i) => ({
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
        kind: 'standpipe' as const,
        overflowBoreMm: 40,
        returnBoreMm: 16,
        returnThrough: 'pump' as const,
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
    })),
  );
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

const FEED_G: Record<string, number> = { v51: 0, v52: 9, v53: 11.5 };
const CULTIVAR_G: Record<string, number> = { v55: 0, v56: 4, v57: -5, v58: 2 };
const LIGHT_G_PER_UMOL = 0.09;
const SHELF_SD = 1.5;
const TRAY_SD = 1;
const PLANT_SD = 3.4;
const DEAD = 5;
const LABEL_HELD = 0.97;
const METER_SD = 0.015;

export function soundExample(): Plan {
  const shelves = [1, 2, 3].map(shelf);
  const unread: Plan = {
    ...emptyPlan('Basil, feed by cultivar, spring'),
    notes:
      'Made-up demo. Scenario and figures are invented; any likeness to a real trial is chance.',
    nextId: 130,
    rack: {
      shelves,
      lampKinds: [
        {
          id: 'k1',
          name: 'White strip, 1150 mm',
          shape: 'strip',
          lengthMm: 1150,
          widthMm: 20,
          emission: { kind: 'lambertian' },
          output: { kind: 'watts', efficacyUmolJ: 2.4 },
          powerW: 24,
          massKg: 0.7,
        },
      ],
    },
    light: {
      photoperiodHours: 16,
      canopyAt: 'midway',
      targetPpfdUmol: { lowest: 110, highest: 280 },
      lowestMinToMean: 0.55,
      readings: [],
      electricityPricePerKwh: 0.3,
      currency: '€',
    },
    flood: flooding(shelves),
    trial,
  };
  const base: Plan = { ...unread, light: { ...unread.light, readings: readings(unread.rack) } };
  const ppfdOf = ({ rack, light }: Plan) =>
    new Map([...potLight(rack, light).pots].map(([id, value]) => [id, value.ppfdUmol]));
  const layout = drawLayoutToKeep({
    rack: base.rack,
    trial,
    ppfdByPot: ppfdOf(base),
    zones: base.flood?.zones ?? [],
    seed: SEED,
    drawnAt: '2026-02-27T09:30:00+01:00',
    engineVersion,
  });
  const planted: Plan = { ...base, layout: { ...layout, plantedAt: '2026-03-02' } };
  return { ...planted, records: harvest(planted, ppfdOf(unread)) };
}

/** Nine readings a shelf: lamps a little weaker than their label, and a meter that wavers. */
function readings(rack: Rack): LightReading[] {
  const meter = stream(SEED, 'meter');
  return rack.shelves.flatMap((s) => {
    const zMm = (s.canopy.plantingMm + s.canopy.harvestMm) / 2;
    const points = [90, 300, 510].flatMap((yMm) =>
      [120, 600, 1080].map((xMm) => ({ xMm, yMm, zMm })),
    );
    const ppfd = shelfLight(s, rack.lampKinds, { heightMm: zMm, reflected: true }).at(points);
    return points.map((point, i): LightReading => ({
      id: `r${90 + 10 * s.number + i}`,
      shelfId: s.id,
      ...point,
      value: Math.round((ppfd[i] ?? 0) * LABEL_HELD * (1 + METER_SD * meter.normal())),
      unit: 'ppfd',
      luxPerPpfd: null,
      date: '2026-02-26',
      note: '',
      of: lightStamp(s, rack.lampKinds),
    }));
  });
}

function harvest(plan: Plan, ppfdByPot: ReadonlyMap<string, number>): Plan['records'] {
  const values: Record<string, Record<string, number>> = { m60: {}, m61: {}, m62: {}, m63: {} };
  const put = (measurement: string, pot: string, value: number) => {
    (values[measurement] ??= {})[pot] = value;
  };
  const places = stream(SEED, 'places');
  const plants = stream(SEED, 'plants');
  const shelfG = new Map(plan.rack.shelves.map((s) => [s.id, SHELF_SD * places.normal()]));
  const trayG = new Map(
    plan.rack.shelves.flatMap((s) => s.trays).map((t) => [t.id, TRAY_SD * places.normal()]),
  );
  const levelsOf = new Map(plan.layout?.assignments.map((a) => [a.potId, a.levels]));
  const pots = potsOfRack(plan.rack);
  const mean = [...ppfdByPot.values()].reduce((sum, v) => sum + v, 0) / ppfdByPot.size;
  const marks: Plan['records']['marks'] = {};
  const dead = new Set<string>();
  while (dead.size < DEAD) dead.add(pots[plants.integer(pots.length)]?.id ?? '');
  for (const pot of pots) {
    const levels = levelsOf.get(pot.id) ?? {};
    const start = Math.max(2, 6 + 1.1 * plants.normal());
    const weight =
      38 +
      (FEED_G[levels['f50'] ?? ''] ?? 0) +
      (CULTIVAR_G[levels['f54'] ?? ''] ?? 0) +
      LIGHT_G_PER_UMOL * ((ppfdByPot.get(pot.id) ?? mean) - mean) +
      1.2 * (start - 6) +
      (shelfG.get(pot.shelfId) ?? 0) +
      (trayG.get(pot.trayId) ?? 0) +
      PLANT_SD * plants.normal();
    put('m60', pot.id, round(start, 1));
    put('m61', pot.id, Math.max(2, Math.round(1.2 * start + plants.normal())));
    if (dead.has(pot.id)) {
      const date = `2026-03-${String(8 + plants.integer(20)).padStart(2, '0')}`;
      marks[pot.id] = { mark: 'dead', date, reason: 'wilted and did not recover' };
      continue;
    }
    put('m62', pot.id, round(Math.max(6, weight), 1));
    put('m63', pot.id, Math.max(4, Math.round(0.9 * weight + 3 * plants.normal())));
  }
  const incidents = [
    {
      id: 'i90',
      date: '2026-03-19',
      text: 'Pump of tray 2B stood still overnight; flooded by hand at 7:30.',
      about: ['t22'],
    },
  ];
  return { values, second: {}, marks, incidents };
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
