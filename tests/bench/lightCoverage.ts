/**
 * How often the interval that answers holds the true difference of a light treatment: bright less dim
 * is 25 g, pots at the edge are 5 g lighter, two units carry each level, the light differs from pot to
 * pot as the lamps of the rack give it and plants follow it, units differ by themselves, and some plants
 * die.
 */
import { findingsOf } from '../../renderer/engine/findings';
import { potLight } from '../../renderer/engine/light/potLight';
import { rackAsTreated } from '../../renderer/engine/treated';
import { drawLayout, measuredPots } from '../../renderer/engine/trial';
import { stream } from '../../renderer/engine/trial/stream';
import type { Layout } from '../../shared-types/layout';
import { type Trial } from '../../shared-types/trial/trial';
import { positionModels, type PositionModel } from '../../shared-types/trial/position';
import type { Rack } from '../../shared-types/rack';
import { kindOf, lampOf } from '../builders/rackParts';
import { drawn, factorOf, rackOf, trialOf, harvestWeight } from '../builders/trialInput';

export const TRUE_DIFFERENCE = 25;
export const coverageModels: readonly PositionModel[] = positionModels;

export interface CoverageCase {
  name: string;
  rack: Rack;
  unit: 'shelf' | 'bay';
}

/**
 * Shelves with a strip over each half, which the levels dim. Two to a shelf with a board between them,
 * or a shelf to a level; a strip lights the middle of its half best.
 */
function litRack(shelves: number, boarded: boolean): Rack {
  const rack = rackOf({ shelves, traysPerShelf: 2, rows: 4, columns: boarded ? 4 : 3 });
  return {
    ...rack,
    lampKinds: [
      kindOf({ lengthMm: 300, widthMm: 20, output: { kind: 'photons', fluxUmolS: 100 } }),
    ],
    shelves: rack.shelves.map((shelf, s) => ({
      ...shelf,
      lamps: [1, 3].map((quarter) =>
        lampOf({
          id: `m${s + 1}${quarter}`,
          xMm: (quarter * shelf.widthMm) / 4,
          yMm: shelf.depthMm / 2,
          group: `shelf ${s + 1}`,
        }),
      ),
      ...(boarded && {
        boards: [
          {
            id: `b${s + 1}`,
            direction: 'across' as const,
            atMm: shelf.widthMm / 2,
            thicknessMm: 4,
            reflectance: 0.8,
            downToMm: 60,
          },
        ],
        bays: [{ id: `b${2 * s + 11}` }, { id: `b${2 * s + 12}` }],
      }),
    })),
  };
}

export const coverageCases: readonly CoverageCase[] = [
  { name: 'two shelves in four bays', rack: litRack(2, true), unit: 'bay' },
  { name: 'four shelves', rack: litRack(4, false), unit: 'shelf' },
];

const measurement = harvestWeight({ lowest: 0, highest: 300 });

const SD = { unit: 2, plant: 3 } as const;
const PER_UMOL = 0.05;
const DEAD = 0.04;
/** Of the lamps under the bright and the dim level. */
const DIMMING = [1, 0.4] as const;

const lightPlan = {
  canopyAt: 'harvest' as const,
  photoperiodHours: 16,
  readings: [],
};

/** The light at each pot as the lamps of the rack give it under a layout; six layouts are possible. */
const lights = new Map<string, ReadonlyMap<string, number>>();
function lightUnder(one: CoverageCase, trial: Trial, layout: Layout): ReadonlyMap<string, number> {
  const key = `${one.name} ${layout.assignments.map(({ levels }) => levels['f1']).join(' ')}`;
  const known = lights.get(key);
  if (known) return known;
  const { factors } = trial;
  const { assignments } = layout;
  const treated = rackAsTreated(
    { rack: one.rack, flood: null, factors, assignments },
    { as: 'treated' },
  );
  const { pots, problems } = potLight(treated.rack, lightPlan);
  if (problems.size > 0) throw new Error(`the lamps of ${one.name} cannot be computed`);
  const found = new Map([...pots].map(([id, { ppfdUmol }]) => [id, ppfdUmol]));
  lights.set(key, found);
  return found;
}

/** The mean of a pot's figure over each unit. */
function meansBy(ids: readonly string[], values: readonly number[]): ReadonlyMap<string, number> {
  const all = new Map<string, number[]>();
  ids.forEach((id, i) => all.set(id, [...(all.get(id) ?? []), values[i] ?? NaN]));
  return new Map(
    [...all].map(([id, own]) => [id, own.reduce((sum, value) => sum + value, 0) / own.length]),
  );
}

/** Whether the interval of the answering model holds the difference; null where it gives none. */
export function holds(one: CoverageCase, model: PositionModel, seed: string): boolean | null {
  const { rack, unit } = one;
  const light = factorOf(1, unit, 2, { name: 'light', appliedThrough: 'light' });
  const levels = light.levels.map((level, i) => ({
    ...level,
    settings: { through: 'light' as const, dimming: DIMMING[i] ?? 1 },
  }));
  const trial = trialOf([{ ...light, levels }], {
    startDate: '2026-03-02',
    harvestDate: '2026-03-30',
    primaryOutcomeId: 'm1',
    primaryPosition: model,
    measurements: [measurement] as Trial['measurements'],
  });
  const pots = measuredPots(rack);
  const random = stream(seed, 'harvest');
  const { layout } = drawLayout({ rack, trial, ppfdByPot: new Map(), zones: [], seed, ...drawn });
  const isBright = new Map(layout.assignments.map((a) => [a.potId, a.levels['f1'] === 'l101']));
  const unitIds = pots.map((pot) => (unit === 'bay' ? pot.bayId : pot.shelfId));
  const own = new Map(
    [...new Set(unitIds)].map((id) => [
      id,
      { lamp: 1 + 0.06 * random.normal(), grams: SD.unit * random.normal() },
    ]),
  );
  // What the lamps are stated to give is known; that they give some per cent more or less is not.
  const ppfdByPot = lightUnder(one, trial, layout);
  const given = pots.map(
    ({ id }, i) => (ppfdByPot.get(id) ?? NaN) * (own.get(unitIds[i] ?? '')?.lamp ?? NaN),
  );
  const means = meansBy(unitIds, given);
  const values = pots.flatMap(({ id, onEdge }, i): [string, number][] => {
    const [dies, plant] = [random.fraction() < DEAD, random.normal()];
    if (dies) return [];
    const grams =
      60 +
      (isBright.get(id) ? TRUE_DIFFERENCE : 0) +
      (onEdge ? -5 : 0) +
      PER_UMOL * ((given[i] ?? NaN) - (means.get(unitIds[i] ?? '') ?? NaN)) +
      (own.get(unitIds[i] ?? '')?.grams ?? NaN) +
      SD.plant * plant;
    return [[id, grams]];
  });
  const outcome = findingsOf(
    {
      rack,
      trial,
      layout,
      zones: [],
      ppfdByPot,
      ppfdAtDraw: ppfdByPot,
      startByPot: new Map(),
      blockByPot: new Map(),
      records: {
        second: {},
        marks: {},
        incidents: [],
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
