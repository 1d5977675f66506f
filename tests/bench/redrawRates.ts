/**
 * How often the randomisation test calls a factor that does nothing a difference while another one,
 * drawn with it over the same units, does much: layouts keep the other's labels, or the test must be
 * called approximate. Plants die, blocks are of unequal size.
 */
import { randomisationTest, type RandomisationInput } from '../../renderer/engine/findings';
import { drawLayout, measuredPots } from '../../renderer/engine/trial';
import { stream } from '../../renderer/engine/trial/stream';
import type { Rack } from '../../shared-types/rack';
import type { Trial } from '../../shared-types/trial/trial';
import type { PositionModel } from '../../shared-types/trial/position';
import { drawn, factorOf, rackOf, trialOf, harvestWeight } from '../builders/trialInput';

export interface RedrawCase {
  name: string;
  rack: Rack;
  trial: Partial<Trial>;
  /** Levels of the factors, all drawn over pots; the first does nothing. */
  levels: readonly number[];
  /** The test is of these, by number. */
  of: readonly number[];
  /** Whether the test is to be called approximate. */
  approximate: boolean;
  position?: PositionModel;
  /** Difference between the ends of the second factor, in standard deviations of a pot. */
  effect?: number;
}

const measurement = harvestWeight();

/** Trays one to a shelf, with so many rows each. */
function unequal(rows: readonly number[], columns: number): Rack {
  const rack = rackOf({ shelves: rows.length, traysPerShelf: 1, rows: Math.max(...rows), columns });
  return {
    ...rack,
    shelves: rack.shelves.map((shelf, s) => ({
      ...shelf,
      trays: shelf.trays.map((tray) => ({
        ...tray,
        grid: tray.grid && { ...tray.grid, rows: rows[s] ?? tray.grid.rows },
      })),
    })),
  };
}

const blocks: Partial<Trial> = { scheme: 'complete-blocks', blocks: { by: 'tray' } };
const three = rackOf({ shelves: 3, traysPerShelf: 1, rows: 3, columns: 4 });
const square = rackOf({ shelves: 1, traysPerShelf: 1, rows: 6, columns: 6 });
const two = { levels: [2, 3], of: [0], approximate: false } as const;

export const redrawCases: readonly RedrawCase[] = [
  { ...two, name: '2 × 3 in complete blocks', rack: three, trial: blocks },
  {
    ...two,
    name: '2 × 3 in blocks of 6, 12 and 18 pots',
    rack: unequal([1, 2, 3], 6),
    trial: blocks,
  },
  {
    ...two,
    name: '2 × 3 completely randomised on 28 pots',
    rack: rackOf({ shelves: 1, traysPerShelf: 1, rows: 4, columns: 7 }),
    trial: {},
  },
  {
    ...two,
    name: '2 × 3 in complete blocks, the interaction',
    rack: three,
    trial: blocks,
    of: [0, 1],
    approximate: true,
  },
  {
    ...two,
    name: '2 × 3 in a Latin square',
    rack: square,
    trial: { scheme: 'latin-square' },
    approximate: true,
  },
  {
    ...two,
    name: '2 × 3 in complete blocks, the best tenth of draws',
    rack: three,
    trial: {
      ...blocks,
      constraint: { acceptanceShare: 0.1, balance: ['position'], likeNeighbours: null },
    },
    approximate: true,
  },
  ...(['smooth', 'ar1'] as const).flatMap((position): RedrawCase[] => [
    { ...two, position, name: `2 × 3 in complete blocks, ${position}`, rack: three, trial: blocks },
    {
      ...two,
      position,
      name: `2 × 3 in blocks of 6, 12 and 18 pots, ${position}`,
      rack: unequal([1, 2, 3], 6),
      trial: blocks,
    },
    {
      ...two,
      position,
      name: `2 × 3 in a Latin square, ${position}`,
      rack: square,
      trial: { scheme: 'latin-square' },
      approximate: true,
    },
  ]),
];

/** So that 5 % is a whole number of layouts. */
const LAYOUTS = 199;
const DEAD = 0.08;

/** p of the test in one made-up harvest, and whether it is called approximate. */
export function redrawn(one: RedrawCase, seed: string): { p: number; approximate: boolean } {
  const { rack, levels, of, effect = 2, position = 'none' } = one;
  const factors = levels.map((count, k) => factorOf(k + 1, 'pot', count));
  const trial = trialOf(factors, {
    startDate: '2026-03-02',
    harvestDate: '2026-03-30',
    primaryOutcomeId: 'm1',
    measurements: [measurement] as Trial['measurements'],
    primaryPosition: position,
    ...one.trial,
  });
  const ppfdByPot = new Map<string, number>();
  const { layout } = drawLayout({ rack, trial, ppfdByPot, zones: [], seed, ...drawn });
  const random = stream(seed, one.name);
  const given = new Map(layout.assignments.map(({ potId, levels: own }) => [potId, own]));
  const last = levels[1] ?? 1;
  const byTray = new Map<string, number>();
  const values = measuredPots(rack).flatMap((pot): [string, number][] => {
    const tray = byTray.get(pot.trayId) ?? random.normal();
    byTray.set(pot.trayId, tray);
    const second = ['l201', 'l202', 'l203', 'l204'].indexOf(given.get(pot.id)?.['f2'] ?? '');
    const wave = Math.sin(pot.xMm / 150) + Math.cos(pot.yMm / 200);
    const value = tray + 0.5 * wave + (effect * second) / (last - 1) + random.normal();
    return random.fraction() < DEAD ? [] : [[pot.id, value]];
  });
  const input: RandomisationInput = {
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
  };
  const found = randomisationTest(input, {
    measurementId: null,
    index: null,
    runs: LAYOUTS,
    seed,
    factorIds: of.map((k) => `f${k + 1}`),
  });
  return { p: found.p, approximate: found.approximate !== null };
}
