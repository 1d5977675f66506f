import { emptyPlan } from '../../renderer/document/new';
import { potLight } from '../../renderer/engine/light';
import { drawLayoutToKeep } from '../../renderer/engine/trial/draw/draw';
import type { Plan } from '../../shared-types/plan';
import type { Lamp, PotGrid, Shelf, Tray } from '../../shared-types/rack';
import type { Level, Trial } from '../../shared-types/trial/trial';
import { engineVersion } from '../../renderer/derive/version';
import { soundFlooding } from './soundFlooding';
import { soundHarvest, soundReadings } from './soundRecords';

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
    flood: soundFlooding(shelves),
    trial,
  };
  const base: Plan = {
    ...unread,
    light: { ...unread.light, readings: soundReadings(unread.rack, SEED) },
  };
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
  return { ...planted, records: soundHarvest(planted, SEED, ppfdOf(unread)) };
}
