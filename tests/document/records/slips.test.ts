import { describe, expect, it } from 'vitest';
import { newGrid } from '../../../renderer/document/new';
import { findSlips, mixedTrays } from '../../../renderer/document/records';
import { outlyingOf } from '../../../renderer/document/records/slips/factorSlips';
import { potsOfRack } from '../../../renderer/engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';

/** The sample with 5 × 6 pots in each tray and weights at harvest by a rule. */
function weighed(weight: (row: number, column: number, trayId: string) => number): Plan {
  const plan = samplePlan();
  const shelves = plan.rack.shelves.map((shelf) => ({
    ...shelf,
    trays: shelf.trays.map((tray) => ({
      ...tray,
      grid: { ...newGrid(tray), rows: 5, columns: 6 },
    })),
  }));
  const rack = { ...plan.rack, shelves };
  const m2 = Object.fromEntries(
    potsOfRack(rack).map((pot) => [pot.id, weight(pot.row, pot.column, pot.trayId)]),
  );
  return { ...plan, rack, records: { ...plan.records, values: { m2 } } };
}

/** A little unevenness without pattern: the same for every run. */
const uneven = (row: number, column: number) => ((row * 7 + column * 13) % 5) / 10;

const kinds = (plan: Plan) => findSlips(plan).map(({ kind, potId }) => `${kind} ${potId}`);

describe('slips', () => {
  it('asks about a decimal point left out', () => {
    const plan = weighed((row, column) => {
      const weight = 30 + uneven(row, column);
      return row === 3 && column === 3 ? weight * 10 : weight;
    });
    expect(kinds(plan)).toEqual(['far-from-neighbours t1:3:3', 'far-from-neighbours t2:3:3']);
    expect(findSlips(plan)[0]?.text).toMatch(
      /^1A-C3: fresh weight at harvest 30\d g is far from the 30\.?\d* g of plants like it; 30\.?\d* g would fit\. A point may have slipped\.$/,
    );
  });

  it('is silent on a tray that falls off steadily from one end to the other', () => {
    expect(kinds(weighed((row, column) => 60 - 9 * column + uneven(row, column)))).toEqual([]);
  });

  it('is silent on two treatments in a chequerboard, far apart', () => {
    const plan = weighed((row, column) => ((row + column) % 2 ? 20 : 55) + uneven(row, column));
    expect(kinds(plan)).toEqual([]);
  });

  it('is silent on trays at different levels and on equal values', () => {
    expect(kinds(weighed((_row, _column, trayId) => (trayId === 't1' ? 20 : 55)))).toEqual([]);
  });

  it('asks about values out of range, counts that are not whole, losses and double entries', () => {
    const plan = samplePlan();
    if (!plan.trial) throw new Error('the sample has a trial');
    const leaves = { kind: 'count', unit: 'leaves', name: 'leaves', id: 'm3' } as const;
    const [start, harvest] = plan.trial.measurements;
    if (!start || !harvest) throw new Error('the sample has two measurements');
    const measurements = [start, { ...harvest, highest: 90 }, { ...harvest, ...leaves }];
    const asked: Plan = {
      ...plan,
      trial: { ...plan.trial, measurements },
      records: {
        ...plan.records,
        values: {
          m1: { 't1:1:1': 25, 't1:1:2': 31, 't1:1:3': 31, 't1:2:1': 20 },
          m2: { 't1:1:1': 91, 't1:1:2': 29, 't1:1:3': 3, 't1:2:1': 30 },
          m3: { 't1:1:1': 4.5 },
        },
        second: { m2: { 't1:2:1': 33, 't1:1:1': 91 } },
        marks: { 't1:1:3': { mark: 'dead', date: null, reason: '' } },
      },
    };
    expect(findSlips(asked).map(({ text }) => text)).toEqual([
      '1A-A1: fresh weight at harvest 91 g is outside 0 to 90.',
      '1A-B1: fresh weight at harvest 30 g, but 33 g in the second entry.',
      '1A-A2: fresh weight fell from 31 g at the start to 29 g at harvest.',
      '1A-A1: leaves at harvest 4.5 leaves is a count but not whole.',
    ]);
  });

  it('asks about a weight or count below zero, unless its own range or a score says so', () => {
    const asked = (part: Partial<Measurement>) => {
      const plan = samplePlan();
      if (!plan.trial) throw new Error('the sample has a trial');
      const measurements = plan.trial.measurements.map((m) => ({ ...m, lowest: null, ...part }));
      const records = { ...plan.records, values: { m2: { 't1:1:1': -7 } } };
      return findSlips({ ...plan, trial: { ...plan.trial, measurements }, records });
    };
    expect(asked({ kind: 'count', unit: 'leaves', decimals: 0 })).toMatchObject([
      {
        kind: 'out-of-range',
        text: '1A-A1: fresh weight at harvest -7 leaves is below 0; a count is not.',
      },
    ]);
    expect(asked({})).toHaveLength(1);
    expect(asked({ lowest: -10 })).toEqual([]);
    expect(asked({ kind: 'score' })).toEqual([]);
  });
});

describe('a value off by a factor', () => {
  /** At harvest. */
  const off = (plan: Plan) =>
    findSlips(plan).flatMap(({ kind, potId, measurementId }) =>
      kind === 'off-by-factor' && measurementId === 'm2' ? [potId] : [],
    );

  it('asks about a point left out at the corner of a tray, as the first pots are', () => {
    const plan = weighed((row, column) => {
      const weight = 30 + uneven(row, column);
      return row === 1 && column === 1 ? weight * 10 : weight;
    });
    expect(kinds(plan)).toEqual(['off-by-factor t1:1:1', 'off-by-factor t2:1:1']);
    expect(findSlips(plan)[0]?.text).toBe(
      '1A-A1: fresh weight at harvest 300 g; the others have 30.2 g in the middle. A point may have slipped.',
    );
  });

  /** The same with weights at the start. */
  function grown(
    start: (row: number, column: number) => number,
    end: (row: number, column: number) => number,
  ): Plan {
    const plan = weighed((row, column) => end(row, column));
    const m1 = Object.fromEntries(
      potsOfRack(plan.rack).map((pot) => [pot.id, start(pot.row, pot.column)]),
    );
    return { ...plan, records: { ...plan.records, values: { ...plan.records.values, m1 } } };
  }
  const first = (row: number, column: number) => row === 1 && column === 1;

  it('asks by the others from the second pot on, and tells the weight at the start', () => {
    const plan = grown(
      () => 2,
      (row, column) => (first(row, column) ? 523 : 50 + column),
    );
    const m2 = Object.fromEntries(
      Object.entries(plan.records.values['m2'] ?? {}).filter(([id]) => id.startsWith('t1:1:')),
    );
    const some = (n: number): Plan => {
      const values = {
        ...plan.records.values,
        m2: Object.fromEntries(Object.entries(m2).slice(0, n)),
      };
      return { ...plan, records: { ...plan.records, values } };
    };
    expect(findSlips(some(1))[0]?.text).toContain('times the 2 g at the start');
    for (const n of [2, 4, 12, 13, 30]) {
      expect(off(some(n))).toEqual(['t1:1:1']);
      expect(findSlips(some(n))[0]?.text).toContain('523 g, from 2 g at the start; ');
    }
  });

  it('is silent where all pots grow tenfold, and where a large plant was large at the start', () => {
    expect(
      off(
        grown(
          (row, column) => 0.2 + uneven(row, column) / 10,
          (row, column) => 2 + uneven(row, column),
        ),
      ),
    ).toEqual([]);
    const large = (factor: number) => (row: number, column: number) =>
      (2 + uneven(row, column)) * (first(row, column) ? factor : 1);
    expect(off(grown(large(6), large(6)))).toEqual([]);
    // Not large at the start: asked.
    expect(off(grown(large(1), large(6)))).toHaveLength(2);
  });

  it('is silent on pots of a strong treatment among others', () => {
    const plan = weighed(
      (row, column) => ((row * 6 + column) % 5 === 0 ? 60 : 8) + uneven(row, column),
    );
    const assignments = potsOfRack(plan.rack).map(({ id, row, column }) => ({
      potId: id,
      block: '',
      levels: { f2: (row * 6 + column) % 5 === 0 ? 'v3' : 'v4' },
      plant: null,
    }));
    const layout = drawnPlan().layout;
    if (!layout) throw new Error('the plan is drawn');
    expect(off({ ...plan, layout: { ...layout, assignments } })).toEqual([]);
  });

  it('is silent on counts of a few leaves', () => {
    const plan = weighed((row, column) => (first(row, column) ? 6 : 1));
    if (!plan.trial) throw new Error('the sample has a trial');
    const measurements = plan.trial.measurements.map((m) => ({
      ...m,
      kind: 'count' as const,
      decimals: 0,
    }));
    expect(off({ ...plan, trial: { ...plan.trial, measurements } })).toEqual([]);
  });
});

it('looks for slipped points among treatments only where a value is far from its tray', () => {
  const plan = weighed((row, column) => 30 + uneven(row, column));
  const measurement = plan.trial?.measurements.find(({ id }) => id === 'm2');
  if (!measurement) throw new Error('the sample has a measurement at harvest');
  const pots = potsOfRack(plan.rack);
  const asked = (values: Readonly<Record<string, number>>) => {
    let times = 0;
    const treatmentOf = new Map<string, string>();
    treatmentOf.get = () => {
      times += 1;
      return 'a';
    };
    const source = { measurement, pots, values, marks: {}, second: {}, before: null, treatmentOf };
    outlyingOf(source);
    mixedTrays(source);
    return times;
  };
  const values = plan.records.values['m2'] ?? {};
  expect(asked(values)).toBe(0);
  const [first] = pots;
  expect(asked({ ...values, [first?.id ?? '']: 300 })).toBeGreaterThan(0);
});

describe('the first pots of a harvest', () => {
  /** Start values of 2 g in all pots, and harvest values of the first few. */
  function begun(harvest: readonly number[], patch: Partial<Measurement> = {}): Plan {
    const plan = weighed(() => 2);
    const pots = potsOfRack(plan.rack);
    const m2 = Object.fromEntries(harvest.map((grams, i) => [pots[i]?.id ?? '', grams]));
    const trial = plan.trial && {
      ...plan.trial,
      measurements: plan.trial.measurements.map((m) =>
        m.id === 'm2' ? { ...m, highest: null, ...patch } : m,
      ),
    };
    const values = { m1: plan.records.values['m2'] ?? {}, m2 };
    return { ...plan, trial, records: { ...plan.records, values } };
  }

  it('are held against their start value: a slipped point is asked about at once', () => {
    expect(kinds(begun([412]))).toEqual(['off-by-factor t1:1:1']);
    expect(findSlips(begun([412]))[0]?.text).toBe(
      '1A-A1: fresh weight at harvest 412 g is 210 times the 2 g at the start. ' +
        'A point may have slipped; with more values the others will tell.',
    );
    expect(kinds(begun([41.2, 39, 402]))).toEqual(['off-by-factor t1:1:3']);
    expect(kinds(begun([99]))).toEqual([]);
  });

  it('are left alone once others tell that all have grown so', () => {
    expect(kinds(begun([412, 395]))).toEqual([]);
    expect(kinds(begun([412, 395, 402]))).toEqual([]);
  });

  it('are asked about by later values, in whichever tray they stand', () => {
    // Ten times as little looks like slow growth until there are others.
    expect(kinds(begun([4.1]))).toEqual([]);
    expect(kinds(begun([4.1, 39]))).toEqual(['off-by-factor t1:1:1']);
    expect(kinds(begun([4.1, 39, 40.2]))).toEqual(['off-by-factor t1:1:1']);
    expect(kinds(begun([89, 9, 8.9, 9.2]))).toEqual(['off-by-factor t1:1:1']);
    expect(kinds(begun([8.9, 9, 0.0091]))).toContain('off-by-factor t1:1:3');
    // Threefold is what plants and treatments may do.
    expect(kinds(begun([12, 39, 40.2]))).toEqual([]);
    const filled = begun(Array.from({ length: 31 }, (_, i) => (i === 30 ? 85 : 9 + (i % 5) / 10)));
    expect(kinds(filled)).toEqual(['off-by-factor t2:1:1']);
  });

  it('follow the range that the person has set, where there is one', () => {
    expect(kinds(begun([412], { lowest: 0, highest: 80 }))).toEqual(['out-of-range t1:1:1']);
    expect(kinds(begun([412], { lowest: 0, highest: 600 }))).toEqual([]);
    expect(kinds(begun([52.1, 5.3, 512], { lowest: 0, highest: 600 }))).toContain(
      'off-by-factor t1:1:3',
    );
  });

  it('are held against the last time that the quantity was measured before', () => {
    const plan = begun([412]);
    const [m1, m2] = plan.trial?.measurements ?? [];
    if (!plan.trial || !m1 || !m2) throw new Error('the sample has two measurements');
    const between = { ...m2, id: 'm3', timepoint: 'interim', date: '2026-03-20' } as const;
    const { values } = plan.records;
    const m3 = Object.fromEntries(Object.keys(values['m1'] ?? {}).map((id) => [id, 150]));
    const weighed: Plan = {
      ...plan,
      trial: { ...plan.trial, measurements: [m1, m2, between] },
      records: { ...plan.records, values: { ...values, m3 } },
    };
    const ofHarvest = (p: Plan) =>
      findSlips(p).filter(({ measurementId }) => measurementId === 'm2');
    expect(ofHarvest(plan)).toHaveLength(1);
    expect(ofHarvest(weighed)).toEqual([]);
    const fell = { ...weighed.records.values, m2: { 't1:1:1': 15 } };
    const text = '1A-A1: fresh weight fell from 150 g on 2026-03-20 to 15 g at harvest.';
    expect(ofHarvest({ ...weighed, records: { ...plan.records, values: fell } })).toMatchObject([
      { kind: 'shrank', text },
    ]);
  });
});
