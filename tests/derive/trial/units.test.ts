import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  circuitVerdict,
  floodOf,
  loadVerdict,
  noticesOf,
  potLightOf,
  reservoirVerdict,
  rootZoneVerdicts,
  trayVerdicts,
  withheldOf,
} from '../../../renderer/derive';
import { readPlan } from '../../../renderer/document/open';
import { speechIn } from '../../../renderer/words';
import type { Plan } from '../../../shared-types/plan';
import { kindOf, lampOf, planOf, shelfOf, trayOf } from '../../builders/rackParts';
import { floodPairs } from '../../engine/flood/pairs';

/** All that is said of a plan: notices, and the verdicts and reasons that panes and batch show. */
function sentencesOf(plan: Plan): string[] {
  const { flood } = plan;
  const { lengths } = plan.display;
  const say = speechIn(lengths);
  const light = potLightOf(plan);
  const figures = floodOf(plan);
  return [
    ...noticesOf(plan).flatMap(({ text, remedy }) => [text, remedy]),
    ...[...light.shelves.values()].map(({ uncertainty }) => uncertainty.reason(lengths)),
    ...[...light.problems.values()].map((problem) => problem(lengths)),
    ...withheldOf(plan).map(({ reason }) => reason),
    ...(flood && figures
      ? [
          ...rootZoneVerdicts(flood, figures.trays.values(), say),
          ...figures.zones.flatMap((zone) => [
            reservoirVerdict(zone, say),
            ...zone.trays.flatMap((tray) => trayVerdicts(flood, tray, say)),
          ]),
          ...figures.loads.map((load) => loadVerdict(load, say)),
          ...figures.circuits.map(circuitVerdict),
        ].flatMap(({ text, remedy }) => [text, remedy])
      : []),
  ];
}

const imperial = (plan: Plan): Plan => ({ ...plan, display: { lengths: 'imperial' } });
const METRIC = /\bmm\b|\d (m|L|kg|mL|L\/min)\b/;

function example(name: string): Plan {
  const file = new URL(`../../../renderer/app/examples/${name}.json`, import.meta.url);
  const read = readPlan(readFileSync(file, 'utf8'));
  if (!read.ok) throw new Error(`${name} does not open`);
  return read.plan;
}

/** A shelf on which everything is wrong that has a length in its sentence. */
function crowded(): Plan {
  const tray = trayOf({ xMm: -300, rimHeightMm: 60 });
  const shelf = shelfOf({
    ratedLoadKg: 5,
    trays: [tray, trayOf({ id: 't2', letter: 'A', xMm: 500 })],
    lamps: [lampOf({ zMm: 60 }), lampOf({ id: 'l2', zMm: 900, xMm: 5000 })],
  });
  const plan = planOf('crowded', { shelves: [shelf], lampKinds: [kindOf()] });
  const rota = [{ fromDay: 1, toDay: 9, places: { t1: { placeOf: 't2', turned: false } } }];
  return { ...plan, light: { ...plan.light, lowestMinToMean: 0.99, rota } };
}

/** A spot in the very height of the canopy, over a pot: no finite light there. */
function touching(): Plan {
  const spot = kindOf({ shape: 'spot', lengthMm: 0, widthMm: 0 });
  const canopy = { plantingMm: 80, harvestMm: 80 };
  const lamps = [lampOf({ xMm: 100, yMm: 100, zMm: 80 + 1e-7 })];
  const shelf = shelfOf({ canopy, trays: [trayOf()], lamps });
  return planOf('touching', { shelves: [shelf], lampKinds: [spot] });
}

/** Readings ten times what the lamps give, and one beside the shelf. */
function misread(): Plan {
  const lit = planOf('misread', {
    shelves: [shelfOf({ trays: [trayOf()], lamps: [lampOf()] })],
    lampKinds: [kindOf()],
  });
  const readings = [300, 600, 900].map((xMm, i) => ({
    id: `m${90 + i}`,
    shelfId: 's1',
    xMm,
    yMm: 300,
    zMm: 80,
    value: 9000,
    unit: 'ppfd' as const,
    luxPerPpfd: null,
    date: null,
    note: '',
  }));
  return { ...lit, light: { ...lit.light, readings } };
}

const plans: [string, () => Plan][] = [
  ...['two-lamps', 'water', 'basil', 'radishes'].map((name): [string, () => Plan] => [
    name,
    () => example(name),
  ]),
  ...floodPairs.map(({ kind, why, flawed }): [string, () => Plan] => [
    `${kind}: ${why}`,
    () => flawed,
  ]),
  ['a crowded shelf', crowded],
  ['a lamp that touches the canopy', touching],
  ['readings too strange to be believed', misread],
];

describe('a plan shown in inches', () => {
  it.each(plans)('has no sentence in metric units: %s', (_, make) => {
    const said = sentencesOf(imperial(make()));
    expect(said.length).toBeGreaterThan(0);
    for (const sentence of said) expect(sentence).not.toMatch(METRIC);
  });

  it('says where a lamp touches the canopy, in inches as in millimetres', () => {
    const problem = (plan: Plan) =>
      sentencesOf(plan).filter((sentence) => sentence.includes('cannot be computed'));
    // 100 mm are 3.94 in, 80 mm 3.15 in.
    expect(problem(touching())).toEqual([expect.stringContaining('at 100, 100 mm, 80 mm high')]);
    expect(problem(imperial(touching()))).toEqual([
      expect.stringContaining('at 3.94, 3.94 in, 3.15 in high'),
    ]);
  });
});
