import { describe, expect, it } from 'vitest';
import { recordNotices, unitsAskedBy } from '../../../renderer/derive/records/recordNotices';
import { newGrid, newTray } from '../../../renderer/document/new';
import { potsOfRack, type Pot } from '../../../renderer/engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

const uneven = ({ row, column }: Pot) => ((row * 7 + column * 13) % 5) / 50;

/**
 * Two shelves with two trays each of 3 × 4 pots. Medium alternates within trays and, where
 * `strongOn` names a tray, that tray alone has a treatment of its own.
 */
function weighed(
  harvest: (pot: Pot, treatment: string) => number | null,
  start: ((pot: Pot) => number) | null = () => 2,
  strongOn: string | null = null,
): Plan {
  const plan = drawnPlan();
  if (!plan.layout) throw new Error('the sample is drawn');
  const shelves = plan.rack.shelves.map((shelf, s) => {
    const [tray] = shelf.trays;
    if (!tray) throw new Error('the sample has trays');
    const trays = [tray, { ...newTray(`t${s + 3}`, shelf), letter: 'B' }];
    return {
      ...shelf,
      trays: trays.map((t) => ({ ...t, grid: { ...newGrid(t), rows: 3, columns: 4 } })),
    };
  });
  const rack = { ...plan.rack, shelves };
  const pots = potsOfRack(rack);
  const treatmentOf = (pot: Pot) =>
    pot.trayId === strongOn ? 'v9' : (pot.row + pot.column) % 2 === 0 ? 'v3' : 'v4';
  const assignments = pots.map((pot) => ({
    potId: pot.id,
    block: '',
    levels: { f2: treatmentOf(pot) },
    plant: null,
  }));
  const weights = pots.flatMap((pot) => {
    const value = harvest(pot, treatmentOf(pot));
    return value === null ? [] : [[pot.id, value] as const];
  });
  const values = {
    m2: Object.fromEntries(weights),
    ...(start ? { m1: Object.fromEntries(pots.map((pot) => [pot.id, start(pot)])) } : {}),
  };
  return {
    ...plan,
    rack,
    layout: { ...plan.layout, assignments },
    records: { ...plan.records, values },
  };
}

const mixed = (plan: Plan) =>
  recordNotices(plan)
    .filter(({ kind }) => kind === 'units-mixed')
    .map(({ text, about }) => ({ text, about }));
const grams = (pot: Pot) => 50 + 10 * uneven(pot);

describe('units that are mixed up', () => {
  it('asks about a tray in kilograms, ounces or with a point left out, and names the shelf', () => {
    const tray = (factor: number) =>
      mixed(weighed((pot) => grams(pot) * (pot.trayId === 't1' ? factor : 1)));
    expect(tray(1 / 1000)).toEqual([
      {
        about: ['tray:t1', 'measurement:m2'],
        text:
          'Fresh weight at harvest: 0.0504 g in the middle of tray 1A; comparable trays have ' +
          '1000 times as much (50.4 g). Were g and kg mixed up?',
      },
    ]);
    expect(tray(1 / 28.3495)[0]?.text).toContain('Were g and oz mixed up?');
    expect(tray(10)[0]?.text).toContain('10 times that of comparable trays (50.4 g). Was a point');
    const shelf = mixed(weighed((pot) => grams(pot) * (pot.shelfId === 's2' ? 1000 : 1)));
    expect(shelf).toHaveLength(1);
    expect(shelf[0]?.text).toContain('of shelf 2;');
    expect(shelf[0]?.about).toEqual(['tray:t2', 'tray:t4', 'measurement:m2']);
  });

  it('asks about a whole column in kilograms where no range is set', () => {
    expect(mixed(weighed((pot) => grams(pot) / 1000))[0]?.text).toBe(
      'Fresh weight at harvest: 0.0504 g in the middle, after 2 g at the start. ' +
        'Plants rarely shrink: is it another unit?',
    );
    // Without weights at the start the last decimal tells: 0.05 g on a balance of 0.1 g.
    expect(mixed(weighed((pot) => grams(pot) / 1000, null))[0]?.text).toContain('last decimal');
    expect(mixed(weighed((pot) => grams(pot) * 1000))[0]?.text).toContain('25200 times the 2 g');
  });

  it('asks the same before a table is taken over, and only what is new', () => {
    const plan = weighed(() => null);
    const taken = (factor: number) =>
      potsOfRack(plan.rack).map((pot) => ({
        measurementId: 'm2',
        potId: pot.id,
        value: grams(pot) * (pot.trayId === 't1' ? factor : 1),
      }));
    expect(unitsAskedBy(plan, taken(1 / 1000))[0]).toContain('Were g and kg mixed up?');
    expect(unitsAskedBy(plan, taken(1))).toEqual([]);
    const known = weighed((pot) => grams(pot) * (pot.trayId === 't1' ? 1 / 1000 : 1));
    expect(unitsAskedBy(known, taken(1 / 1000))).toEqual([]);
  });

  it('is silent on growth, strong treatments and trays that differ as trays do', () => {
    expect(mixed(weighed(grams))).toEqual([]);
    // From small starts, all pots tenfold; two hundredfold.
    expect(
      mixed(
        weighed(
          (pot) => 5 + uneven(pot),
          (pot) => 0.5 + uneven(pot),
        ),
      ),
    ).toEqual([]);
    expect(mixed(weighed(grams, () => 0.2))).toEqual([]);
    // A treatment that makes twelvefold, in every tray, or as the only one of one tray.
    expect(mixed(weighed((pot, t) => grams(pot) * (t === 'v4' ? 12 : 1)))).toEqual([]);
    expect(
      mixed(
        weighed(
          (pot, t) => grams(pot) * (t === 'v9' ? 12 : 1),
          () => 2,
          't1',
        ),
      ),
    ).toEqual([]);
    expect(mixed(weighed((pot) => grams(pot) * (pot.trayId === 't1' ? 4 : 1)))).toEqual([]);
    // Too few pots to say.
    expect(
      mixed(weighed((pot) => (pot.trayId === 't1' && pot.row > 1 ? null : grams(pot)))),
    ).toEqual([]);
  });

  it('finds no tray off where a few of its pots are', () => {
    const few = (pot: Pot) => (pot.trayId === 't1' && pot.column === 1 ? 0.001 : 1);
    expect(mixed(weighed((pot) => grams(pot) * few(pot)))).toEqual([]);
  });
});
