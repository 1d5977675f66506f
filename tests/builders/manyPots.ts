import { markPlanted } from '../../renderer/document/commands';
import { emptyPlan, newFlood, newLamp, newLampKind } from '../../renderer/document/new';
import { newTrial } from '../../renderer/document/newTrial';
import { trialInputOf } from '../../renderer/derive';
import { potsToMeasure } from '../../renderer/document/queries';
import { drawLayout } from '../../renderer/engine/trial';
import type { Plan } from '../../shared-types/plan';
import type { Shelf } from '../../shared-types/rack';
import { factorOf, rackOf } from './trialInput';
import { run } from './run';

/** How many pots, on how many shelves of how many trays. */
export interface ManyPots {
  shelves: number;
  traysPerShelf: number;
  rows: number;
  columns: number;
}

/** 10 shelves of 4 trays of 5 × 10 pots. */
export const TWO_THOUSAND: ManyPots = { shelves: 10, traysPerShelf: 4, rows: 5, columns: 10 };
/** 10 shelves of 5 trays of 10 × 20 pots. */
export const TEN_THOUSAND: ManyPots = { shelves: 10, traysPerShelf: 5, rows: 10, columns: 20 };
/** 50 shelves of 5 trays of 10 × 20 pots. */
export const FIFTY_THOUSAND: ManyPots = { shelves: 50, traysPerShelf: 5, rows: 10, columns: 20 };
/** 200 shelves of 2 trays of 4 × 6 pots. */
export const TWO_HUNDRED_SHELVES: ManyPots = {
  shelves: 200,
  traysPerShelf: 2,
  rows: 4,
  columns: 6,
};

/**
 * A lit and flooded rack of many pots with a trial of four media in complete blocks by tray, fresh
 * weight at the start (m1) and at harvest (m2); nothing drawn or recorded yet.
 */
export function manyPots(size: ManyPots): Plan {
  const plan = emptyPlan('Many pots');
  const rack = rackOf(size);
  const shelves = rack.shelves.map((shelf, s) => ({
    ...shelf,
    lamps: [0.3, 0.7].map((share, l) => ({
      ...newLamp(`l${900 + 2 * s + l}`, 'k1', shelf),
      yMm: shelf.depthMm * share,
    })),
  }));
  const stood = shelves.map((shelf, s) => stoodIn(size, shelf, s));
  const lit = { shelves: stood, lampKinds: [newLampKind('k1')] };
  return {
    ...plan,
    nextId: 100_000,
    rack: lit,
    flood: newFlood('z1', lit),
    trial: {
      ...newTrial({ start: 'm1', harvest: 'm2' }, 'Which medium grows more?'),
      factors: [factorOf(1, 'pot', 4, { name: 'medium' })],
      startDate: '2026-03-01',
      harvestDate: '2026-04-12',
    },
  };
}

/** Racks of ten shelves, side by side, where one would be higher than a room. */
function stoodIn({ shelves }: ManyPots, shelf: Shelf, nth: number): Shelf {
  if (shelves <= TEN_THOUSAND.shelves) return shelf;
  const rack = Math.floor(nth / 10);
  const xMm = -15_000 + rack * Math.min(1500, 30_000 / (shelves / 10));
  return { ...shelf, heightMm: 300 + 500 * (nth % 10), stands: { xMm, yMm: 0, turnDeg: 0 } };
}

/** The same, drawn and planted. */
export function manyPlanted(size: ManyPots): Plan {
  const plan = manyPots(size);
  const input = trialInputOf(plan);
  if (!input) throw new Error('the plan has a trial');
  const { layout } = drawLayout({
    ...input,
    seed: 'many pots',
    drawnAt: '2026-03-01T09:00:00+00:00',
    engineVersion: 'test',
  });
  return run({ ...plan, layout }, markPlanted, { date: '2026-03-01' });
}

/** The same with both measurements recorded, of the last `open` pots only the first. */
export function manyRecorded(size: ManyPots, open = 0): Plan {
  const plan = manyPlanted(size);
  const pots = potsToMeasure(plan);
  const list = (base: number, most: number) =>
    Object.fromEntries(pots.slice(0, most).map(({ id }, i) => [id, base + ((i * 7919) % 41) / 10]));
  const values = { m1: list(4, pots.length), m2: list(30, pots.length - open) };
  return { ...plan, records: { ...plan.records, values } };
}

/** Shelves of two trays in racks of five, eight racks in a row, in a room with matt surfaces. */
export function roomOfBays(shelves: number): Plan {
  const plan = manyPots({ ...TWO_HUNDRED_SHELVES, shelves });
  const stood = plan.rack.shelves.map((shelf, nth): Shelf => {
    const rack = Math.floor(nth / 5);
    const xMm = 500 + 1500 * (rack % 8);
    const yMm = 500 + 1500 * Math.floor(rack / 8);
    return { ...shelf, heightMm: 300 + 500 * (nth % 5), stands: { xMm, yMm, turnDeg: 0 } };
  });
  const size = { widthMm: 13_000, depthMm: 8_000, heightMm: 3_500 };
  const room = { ...size, walls: 0.6, floor: 0.3, ceiling: 0.7 };
  return { ...plan, rack: { ...plan.rack, shelves: stood, room } };
}
