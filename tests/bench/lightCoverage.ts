/**
 * How often the interval that answers holds the true difference of a light treatment: bright less dim
 * is 25 g, pots at the edge are 5 g lighter, two units carry each level, the light differs from pot to
 * pot and plants follow it, units differ by themselves, and some plants die.
 */
import { findingsOf } from '../../renderer/engine/findings';
import { drawLayout, measuredPots } from '../../renderer/engine/trial';
import { stream } from '../../renderer/engine/trial/stream';
import { positionModels, type PositionModel, type Trial } from '../../shared-types/trial';
import type { Rack } from '../../shared-types/rack';
import { drawn, factorOf, rackOf, trialOf } from '../builders/trialInput';

export const TRUE_DIFFERENCE = 25;
export const coverageModels: readonly PositionModel[] = positionModels;

export interface CoverageCase {
  name: string;
  rack: Rack;
  unit: 'shelf' | 'bay';
}

/** Two shelves, a board across the middle of each: four bays. */
function boarded(): Rack {
  const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 4 });
  const shelves = rack.shelves.map((shelf, s) => ({
    ...shelf,
    widthMm: 800,
    boards: [
      {
        id: `b${s + 1}`,
        direction: 'across' as const,
        atMm: 400,
        thicknessMm: 4,
        reflectance: 0.8,
        downToMm: 60,
      },
    ],
    bays: [{ id: `b${2 * s + 11}` }, { id: `b${2 * s + 12}` }],
  }));
  return { ...rack, shelves };
}

export const coverageCases: readonly CoverageCase[] = [
  { name: 'two shelves in four bays', rack: boarded(), unit: 'bay' },
  {
    name: 'four shelves, a tray each',
    rack: rackOf({ shelves: 4, traysPerShelf: 1, rows: 4, columns: 6 }),
    unit: 'shelf',
  },
];

const measurement = {
  ...{ id: 'm1', name: 'Weight', kind: 'weight', unit: 'g', decimals: 2, timepoint: 'harvest' },
  ...{ date: '2026-03-30', lowest: 0, highest: 300 },
};

const SD = { unit: 2, plant: 3 } as const;
const PER_UMOL = 0.05;
const DEAD = 0.04;

/** Whether the interval of the answering model holds the difference; null where it gives none. */
export function holds(one: CoverageCase, model: PositionModel, seed: string): boolean | null {
  const { rack, unit } = one;
  const trial = trialOf([factorOf(1, unit, 2, { name: 'light', appliedThrough: 'light' })], {
    ...{ startDate: '2026-03-02', harvestDate: '2026-03-30' },
    ...{ primaryOutcomeId: 'm1', primaryPosition: model },
    measurements: [measurement] as Trial['measurements'],
  });
  const pots = measuredPots(rack);
  const random = stream(seed, 'harvest');
  const { layout } = drawLayout({ rack, trial, ppfdByPot: new Map(), zones: [], seed, ...drawn });
  const isBright = new Map(layout.assignments.map((a) => [a.potId, a.levels['f1'] === 'l101']));
  const unitOf = (pot: (typeof pots)[number]) => (unit === 'bay' ? pot.bayId : pot.shelfId);
  const units = [...new Set(pots.map(unitOf))];
  const own = new Map(
    units.map((id) => [id, { lamp: 1 + 0.06 * random.normal(), grams: SD.unit * random.normal() }]),
  );
  // Brightest under the middle of its lamps, dimmer to the sides and a little to the back.
  const centre = (id: string, of: 'xMm' | 'yMm') => {
    const all = pots.filter((pot) => unitOf(pot) === id).map((pot) => pot[of]);
    return {
      at: (Math.min(...all) + Math.max(...all)) / 2,
      half: Math.max(...all) - Math.min(...all),
    };
  };
  const middles = new Map(units.map((id) => [id, { x: centre(id, 'xMm'), y: centre(id, 'yMm') }]));
  const ppfdByPot = new Map(
    pots.map((pot): [string, number] => {
      const at = middles.get(unitOf(pot));
      if (!at) throw new Error('each unit has a middle');
      const [x, y] = [(pot.xMm - at.x.at) / at.x.half, (pot.yMm - at.y.at) / at.y.half];
      const share = (1 - x ** 2) * (1 - 0.6 * y ** 2 - 0.1 * y);
      return [
        pot.id,
        (isBright.get(pot.id) ? 380 : 160) * (own.get(unitOf(pot))?.lamp ?? 1) * share,
      ];
    }),
  );
  const means = new Map(
    units.map((id) => {
      const all = pots.filter((pot) => unitOf(pot) === id).map((pot) => ppfdByPot.get(pot.id) ?? 0);
      return [id, all.reduce((sum, value) => sum + value, 0) / all.length];
    }),
  );
  const values = pots.flatMap((pot): [string, number][] => {
    const [dies, plant] = [random.fraction() < DEAD, random.normal()];
    if (dies) return [];
    const light = (ppfdByPot.get(pot.id) ?? 0) - (means.get(unitOf(pot)) ?? 0);
    const grams =
      60 +
      (isBright.get(pot.id) ? TRUE_DIFFERENCE : 0) +
      (pot.onEdge ? -5 : 0) +
      PER_UMOL * light +
      (own.get(unitOf(pot))?.grams ?? 0) +
      SD.plant * plant;
    return [[pot.id, grams]];
  });
  const outcome = findingsOf(
    {
      ...{ rack, trial, layout, zones: [], ppfdByPot, ppfdAtDraw: ppfdByPot },
      ...{ startByPot: new Map(), blockByPot: new Map() },
      records: {
        ...{ second: {}, marks: {}, incidents: [] },
        values: { m1: Object.fromEntries(values) },
      },
    },
    { primaryOnly: true },
  );
  if (!outcome.ok) {
    return null;
  }
  if (outcome.findings.primary.model !== model) {
    return null;
  }
  const [row] = outcome.findings.primary.result.comparisons[0]?.rows ?? [];
  if (!row) return null;
  const sign = row.a === 'Level 1' ? 1 : -1;
  const ends = [sign * row.lower, sign * row.upper].sort((a, b) => a - b);
  return (ends[0] ?? NaN) <= TRUE_DIFFERENCE && TRUE_DIFFERENCE <= (ends[1] ?? NaN);
}

/** Share of trials whose interval holds the truth, and its Monte-Carlo standard error. */
export function coverage(one: CoverageCase, model: PositionModel, seeds: readonly string[]) {
  const found = seeds.map((seed) => holds(one, model, seed));
  const answered = found.filter((held) => held !== null);
  const share = answered.filter((held) => held).length / answered.length;
  return {
    trials: seeds.length,
    answered: answered.length,
    share,
    se: Math.sqrt((share * (1 - share)) / answered.length),
  };
}
