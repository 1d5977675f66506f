import type { FindingsInput } from '../../renderer/engine/findings';
import { drawLayout, measuredPots } from '../../renderer/engine/trial';
import { stream, type Stream } from '../../renderer/engine/trial/stream';
import type { Measurement } from '../../shared-types/trial/measurement';
import type { Factor, Trial } from '../../shared-types/trial/trial';
import { domedLight, drawn, factorOf, rackOf, trialOf } from './trialInput';
import type { ManyPots } from './manyPots';

const weight: Measurement = {
  id: 'm1',
  name: 'weight',
  kind: 'weight',
  unit: 'g',
  decimals: 2,
  timepoint: 'harvest',
  date: '2026-04-12',
  lowest: null,
  highest: null,
};
const leaves: Measurement = {
  id: 'm1',
  name: 'leaves',
  kind: 'count',
  unit: 'leaves',
  decimals: 0,
  timepoint: 'harvest',
  date: '2026-04-12',
  lowest: null,
  highest: null,
  scale: 'quasi-poisson',
};

/** A trial of many pots, and what was harvested of it. */
export interface ManyHarvested {
  what: string;
  rack: ManyPots;
  factors: Factor[];
  trial?: Partial<Trial>;
  runs?: number;
  counts?: boolean;
  /** CPU that its findings may take. */
  limitMs: number;
}

const media = factorOf(1, 'pot', 4, { name: 'medium', appliedThrough: 'medium' });
const byTray: Partial<Trial> = { blocks: { by: 'tray' }, scheme: 'complete-blocks' };

/** Trials of about 2,000 pots, of very different shape. */
export const twoThousandPots: readonly ManyHarvested[] = [
  {
    what: 'four media in 40 trays of 50, the best tenth of draws',
    rack: { shelves: 10, traysPerShelf: 4, rows: 5, columns: 10 },
    factors: [media],
    limitMs: 3000,
    trial: {
      ...byTray,
      primaryPosition: 'edge',
      startCovariate: false,
      constraint: { acceptanceShare: 0.1, balance: ['light', 'position'], likeNeighbours: null },
    },
  },
  {
    what: 'lamps on shelves and media on pots, two runs of 20 trays of 48, neighbours alike',
    rack: { shelves: 10, traysPerShelf: 2, rows: 6, columns: 8 },
    factors: [factorOf(2, 'shelf', 2, { name: 'lamps', appliedThrough: 'light' }), media],
    trial: { scheme: 'split-plot', primaryPosition: 'ar1' },
    runs: 2,
    limitMs: 3000,
  },
  {
    what: 'three feeds by four media in 84 trays of 24, a smooth surface',
    rack: { shelves: 14, traysPerShelf: 6, rows: 4, columns: 6 },
    factors: [media, factorOf(2, 'pot', 3, { name: 'feed', appliedThrough: 'hand' })],
    trial: { ...byTray, primaryPosition: 'smooth' },
    // Each of three terms is drawn anew 1,999 times.
    limitMs: 5000,
  },
  {
    what: 'four media in 4 trays of 500',
    rack: { shelves: 4, traysPerShelf: 1, rows: 20, columns: 25 },
    factors: [media],
    trial: { ...byTray, primaryPosition: 'light' },
    // All 500 pots of a tray covary.
    limitMs: 4000,
  },
  {
    what: 'counts under four media in 40 trays of 50',
    rack: { shelves: 10, traysPerShelf: 4, rows: 5, columns: 10 },
    factors: [media],
    trial: { ...byTray, primaryPosition: 'none' },
    counts: true,
    limitMs: 3000,
  },
];

/** The harvest of such a trial: units, neighbours, light and treatments all have their part. */
export function manyHarvested(shape: ManyHarvested, seed: string): FindingsInput {
  const rack = rackOf(shape.rack);
  const trial = trialOf(shape.factors, {
    startDate: '2026-03-01',
    harvestDate: '2026-04-12',
    primaryOutcomeId: 'm1',
    measurements: [shape.counts ? leaves : weight],
    ...shape.trial,
  });
  const ppfdByPot = domedLight(rack, 0.3);
  const chance = stream(seed, 'harvest');
  const all = Array.from({ length: shape.runs ?? 1 }, (_, k): FindingsInput => {
    const input = { rack, trial, zones: [], ppfdByPot };
    const { layout } = drawLayout({ ...input, seed: `${seed} ${k + 1}`, ...drawn });
    const blockByPot = new Map(
      trial.blocks.by === 'tray' ? measuredPots(rack).map(({ id, trayId }) => [id, trayId]) : [],
    );
    const values = { m1: valuesOf({ ...input, layout }, chance, shape.counts === true) };
    return {
      ...input,
      layout,
      blockByPot,
      ppfdAtDraw: ppfdByPot,
      startByPot: new Map(),
      ...(shape.runs === undefined ? {} : { run: `Run ${k + 1}` }),
      records: { values, second: {}, marks: {}, incidents: [] },
    };
  });
  const own = all.at(-1);
  if (!own) throw new Error('no runs; one at least is expected');
  return shape.runs === undefined ? own : { ...own, all };
}

function valuesOf(
  { rack, layout, ppfdByPot }: Pick<FindingsInput, 'rack' | 'layout' | 'ppfdByPot'>,
  chance: Stream,
  counts: boolean,
): Record<string, number> {
  const base = 40 + 2 * chance.normal();
  const worth = new Map<string, number>();
  const worthOf = (key: string, sd: number): number => {
    const known = worth.get(key) ?? sd * chance.normal();
    worth.set(key, known);
    return known;
  };
  const given = new Map(layout?.assignments.map(({ potId, levels }) => [potId, levels]));
  // What lies next to a pot that was harvested before it, by tray, row and column.
  const near = new Map<string, number>();
  const nearOf = (trayId: string, row: number, column: number): number =>
    near.get(`${trayId} ${row} ${column}`) ?? chance.normal();
  return Object.fromEntries(
    measuredPots(rack).map(({ id, shelfId, trayId, row, column }) => {
      const before = 0.6 * nearOf(trayId, row, column - 1) + 0.3 * nearOf(trayId, row - 1, column);
      const place = before + 0.6 * chance.normal();
      near.set(`${trayId} ${row} ${column}`, place);
      const treated = Object.values(given.get(id) ?? {}).reduce(
        (sum, level) => sum + 0.4 * (Number(level.at(-1)) - 1),
        0,
      );
      const units = worthOf(shelfId, 1) + worthOf(trayId, 1);
      const light = 0.02 * ((ppfdByPot.get(id) ?? 200) - 200);
      const value = base + units + light + treated + 1.5 * place + 2 * chance.normal();
      return [id, counts ? Math.max(0, Math.round(value / 4)) : Math.round(10 * value) / 10];
    }),
  );
}
