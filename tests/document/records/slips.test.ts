import { describe, expect, it } from 'vitest';
import { newGrid } from '../../../renderer/document/new';
import { findSlips } from '../../../renderer/document/records';
import { potsOfRack } from '../../../renderer/engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { samplePlan } from '../samplePlan';

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
      /^1A-C3: fresh weight at harvest 30\d g is far from the 30\.\d+ g in the middle of the 8 pots around it\.$/,
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
          m1: { 't1:1:1': 5, 't1:1:2': 6, 't1:1:3': 6 },
          m2: { 't1:1:1': 91, 't1:1:2': 4, 't1:1:3': 3, 't1:2:1': 30 },
          m3: { 't1:1:1': 4.5 },
        },
        second: { m2: { 't1:2:1': 33, 't1:1:1': 91 } },
        marks: { 't1:1:3': { mark: 'dead', date: null, reason: '' } },
      },
    };
    expect(findSlips(asked).map(({ text }) => text)).toEqual([
      '1A-A1: fresh weight at harvest 91 g is outside 0 to 90.',
      '1A-B1: fresh weight at harvest 30 g, but 33 g in the second entry.',
      '1A-A2: fresh weight fell from 6 g at the start to 4 g at harvest.',
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
