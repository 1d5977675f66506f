import { describe, expect, it } from 'vitest';
import { potsInOrder } from '../../../renderer/document/records';
import { measurementsInOrder, potsToMeasure } from '../../../renderer/document/queries';
import { firstCell } from '../../../renderer/panes/records/grid/firstCell';
import { lineEnd, sayLineEnd } from '../../../renderer/panes/records/grid/lineEnds';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

const plan = drawnPlan();
const inOrder = (order: 'there-and-back' | 'columns' | 'plants') =>
  potsInOrder(potsToMeasure(plan), order, () => null);

describe('the walk along the pots', () => {
  it('tells the end of a row, of a tray and of all', () => {
    const pots = inOrder('there-and-back');
    const ends = pots.flatMap((pot, i) => {
      const end = lineEnd(pot, pots[i + 1] ?? null, 'there-and-back');
      return end === null ? [] : [`${pot.code}: ${sayLineEnd(end, pot, 'there-and-back')}`];
    });
    expect(ends).toEqual([
      '1A-A3: End of row A',
      '1A-B1: End of tray 1A',
      '2A-A3: End of row A',
      '2A-B1: Last pot shown',
    ]);
  });

  it('speaks of columns where it goes by columns, and of no rows where it goes by plants', () => {
    const [first, second, third] = inOrder('columns');
    if (!first || !second || !third) throw new Error('the sample has pots');
    expect(lineEnd(first, second, 'columns')).toBeNull();
    expect(lineEnd(second, third, 'columns')).toBe('row');
    expect(sayLineEnd('row', second, 'columns')).toBe('End of column 1');
    expect(lineEnd(second, third, 'plants')).toBeNull();
  });
});

describe('the cursor at first', () => {
  const measurements = measurementsInOrder(plan);
  const pots = inOrder('there-and-back');
  const with_ = (values: Plan['records']['values']): Plan => ({
    ...plan,
    records: { ...plan.records, values, marks: {} },
  });
  const all = Object.fromEntries(pots.map(({ id }) => [id, 2]));

  it('is at the first open pot of the measurement that is under way', () => {
    expect(firstCell(with_({}), pots, measurements, [])).toEqual({
      potId: 't1:1:1',
      measurementId: 'm1',
    });
    const begun = with_({ m1: all, m2: { 't1:1:1': 9, 't1:1:2': 9 } });
    expect(firstCell(begun, pots, measurements, [])).toEqual({
      potId: 't1:1:3',
      measurementId: 'm2',
    });
    expect(firstCell(with_({ m1: all, m2: all }), pots, measurements, [])).toBeNull();
  });

  it('is at the pot that was selected, where it is one alone', () => {
    const begun = with_({ m1: all });
    expect(firstCell(begun, pots, measurements, ['pot:t2:1:1'])?.potId).toBe('t2:1:1');
    expect(firstCell(begun, pots, measurements, ['pot:t2:1:1', 'pot:t2:1:2'])?.potId).toBe(
      't1:1:1',
    );
    expect(firstCell(begun, pots, measurements, ['tray:t2'])?.potId).toBe('t1:1:1');
  });
});
