import { emptyPlan } from '../../renderer/document/new';
import { potsOfRack } from '../../renderer/engine/geometry';
import { potLight } from '../../renderer/engine/light';
import { drawLayoutToKeep } from '../../renderer/engine/trial/draw/draw';
import { stream } from '../../renderer/engine/trial/stream';
import type { Plan } from '../../shared-types/plan';
import type { LampKind, Shelf } from '../../shared-types/rack';
import type { Trial } from '../../shared-types/trial/trial';
import { engineVersion } from '../../renderer/derive/version';

/**
 * The warning example: lettuce seedlings under two kinds of lamp, one whole shelf each. However
 * many seedlings stand on a shelf, there is only one shelf a lamp.
 */
const SEED = 'two shelves';

const kinds: LampKind[] = (
  [
    ['k1', 'White strip', 2.4],
    ['k2', 'Red and blue strip', 2.8],
  ] as const
).map(([id, name, efficacyUmolJ]) => ({
  id,
  name,
  shape: 'strip',
  lengthMm: 850,
  widthMm: 20,
  emission: { kind: 'lambertian' },
  output: { kind: 'watts', efficacyUmolJ },
  powerW: 20,
  massKg: 0.6,
}));

function shelf(number: number, kindId: string): Shelf {
  const first = number * 10;
  return {
    id: `s${first}`,
    number,
    widthMm: 900,
    depthMm: 450,
    heightMm: 300 + (number - 1) * 480,
    clearanceMm: 430,
    ratedLoadKg: 80,
    canopy: { plantingMm: 70, harvestMm: 180 },
    reflectances: { above: 0.6, canopy: 0.08, front: 0, back: 0.8, left: 0, right: 0 },
    trays: [0, 1].map((i) => ({
      id: `t${first + 1 + i}`,
      letter: i === 0 ? 'A' : 'B',
      xMm: 15 + i * 440,
      yMm: 15,
      widthMm: 430,
      depthMm: 420,
      rimHeightMm: 50,
      grid: {
        pattern: 'staggered',
        rows: 5,
        columns: 4,
        pitchXMm: 90,
        pitchYMm: 80,
        potDiameterMm: 70,
        potHeightMm: 65,
        firstXMm: 57,
        firstYMm: 50,
        guardRing: false,
        guards: [],
        empty: [],
      },
    })),
    lamps: [75, 225, 375].map((yMm, i) => ({
      id: `l${first + 4 + i}`,
      kindId,
      xMm: 450,
      yMm,
      zMm: 400,
      rotationDeg: 0,
      tiltDeg: 0,
      dimming: 1,
      group: `shelf ${number}`,
    })),
  };
}

const trial: Trial = {
  question: 'Do lettuce seedlings grow better under the red and blue strips?',
  factors: [
    {
      id: 'f50',
      name: 'lamp',
      kind: 'fixed',
      unit: 'shelf',
      appliedThrough: 'light',
      levels: [
        { id: 'v51', name: 'white' },
        { id: 'v52', name: 'red and blue' },
      ],
      where: [
        { unitId: 's10', levelId: 'v51' },
        { unitId: 's20', levelId: 'v52' },
      ],
    },
  ],
  measurements: [
    {
      id: 'm60',
      name: 'Fresh weight',
      kind: 'weight',
      unit: 'g',
      decimals: 2,
      timepoint: 'harvest',
      date: '2026-05-18',
      lowest: 0,
      highest: 30,
    },
  ],
  blocks: { by: 'none' },
  scheme: 'completely-randomised',
  constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null },
  startDate: '2026-04-20',
  harvestDate: '2026-05-18',
  alpha: 0.05,
  primaryOutcomeId: 'm60',
  primaryIndex: 'final',
  primaryPosition: 'none',
  startCovariate: false,
  expected: { plantSd: 1.2, unitSd: 0.6, smallestDifference: 1, power: 0.8 },
};

export function unreplicatedExample(): Plan {
  const base: Plan = {
    ...emptyPlan('Lettuce seedlings under two lamps'),
    notes: 'Made-up example of a trial that cannot answer its question.',
    nextId: 100,
    rack: { shelves: [shelf(1, 'k1'), shelf(2, 'k2')], lampKinds: kinds },
    light: {
      photoperiodHours: 16,
      canopyAt: 'midway',
      targetPpfdUmol: null,
      lowestMinToMean: 0.6,
      readings: [],
      electricityPricePerKwh: null,
      currency: '',
    },
    trial,
  };
  const light = potLight(base.rack, base.light);
  const ppfdByPot = new Map([...light.pots].map(([id, value]) => [id, value.ppfdUmol]));
  const layout = drawLayoutToKeep({
    rack: base.rack,
    trial,
    ppfdByPot,
    zones: [],
    seed: SEED,
    drawnAt: '2026-04-17T10:00:00+02:00',
    engineVersion,
  });
  const random = stream(SEED, 'harvest');
  const shelfG = new Map(base.rack.shelves.map((s) => [s.id, 0.6 * random.normal()]));
  const m60: Record<string, number> = {};
  for (const pot of potsOfRack(base.rack)) {
    const grams = 9 + (shelfG.get(pot.shelfId) ?? 0) + 1.2 * random.normal();
    m60[pot.id] = Number(Math.max(1, grams).toFixed(2));
  }
  return {
    ...base,
    layout: { ...layout, plantedAt: '2026-04-20' },
    records: { ...base.records, values: { m60 } },
  };
}
