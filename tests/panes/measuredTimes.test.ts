import { describe, expect, it } from 'vitest';
import { addMeasurement, editMeasurement } from '../../renderer/document/commands';
import { measurementGrid } from '../../renderer/panes/trial/measuredTimes';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { drawnPlan } from '../builders/samplePlan';

const last = ({ trial }: Plan) => {
  const measurement = trial?.measurements.at(-1);
  if (!measurement) throw new Error('a measurement is expected');
  return measurement;
};

describe('what a measurement begins with', () => {
  it('fits its kind: a count has no decimals and is analysed as a count', () => {
    const add = (kind: 'count' | 'score' | 'length' | 'index', timepoint: 'start' | 'harvest') =>
      last(run(drawnPlan(), addMeasurement, { name: 'it', timepoint, measurement: { kind } }));
    expect(add('count', 'harvest')).toMatchObject({
      decimals: 0,
      lowest: 0,
      scale: 'quasi-poisson',
    });
    expect(add('count', 'start').scale).toBeUndefined();
    expect(add('score', 'harvest')).toMatchObject({ decimals: 0, lowest: 1, highest: 5, unit: '' });
    expect(add('length', 'harvest')).toMatchObject({ unit: 'mm', decimals: 0 });
    expect(add('index', 'harvest')).toMatchObject({ unit: '', decimals: 1, lowest: 0 });
  });

  it('follows another kind while no value stands, except what is said itself', () => {
    const edit = (plan: Plan, patch: Parameters<typeof editMeasurement.run>[1]['patch']) =>
      run(plan, editMeasurement, { measurementId: 'm2', patch }).trial?.measurements[1];
    const count = edit(drawnPlan(), { kind: 'count', unit: 'leaves' });
    expect(count).toMatchObject({ unit: 'leaves', decimals: 0, scale: 'quasi-poisson' });
    const plan = drawnPlan();
    const recorded = { ...plan, records: { ...plan.records, values: { m2: { 't1:1:1': 9.5 } } } };
    expect(edit(recorded, { kind: 'score' })).toMatchObject({ unit: 'g', decimals: 1 });
  });
});

describe('the table of what is measured when', () => {
  it('has the usual rows, those of the plan first, and a column for each day between', () => {
    let plan = drawnPlan();
    const measurement = { kind: 'weight', date: '2026-03-20' } as const;
    plan = run(plan, addMeasurement, { name: 'fresh weight', timepoint: 'interim', measurement });
    if (!plan.trial) throw new Error('the sample has a trial');
    const { times, rows } = measurementGrid(plan.trial, ['2026-03-10']);
    expect(times.map(({ timepoint, date }) => date ?? timepoint)).toEqual([
      ...['start', '2026-03-10', '2026-03-20', 'harvest'],
    ]);
    expect(rows.map(({ name }) => name)).toEqual([
      ...['fresh weight', 'leaves', 'shoots', 'height', 'score', 'leaf index'],
    ]);
    expect(rows[0]?.at.map((m) => m?.id ?? '–')).toEqual(['m1', '–', last(plan).id, 'm2']);
    expect(rows[1]?.at.every((m) => m === null)).toBe(true);
  });

  it('keeps a row where one of its measurements is called otherwise', () => {
    const plan = run(drawnPlan(), editMeasurement, {
      measurementId: 'm2',
      patch: { name: 'yield' },
    });
    if (!plan.trial) throw new Error('the sample has a trial');
    const [first] = measurementGrid(plan.trial, []).rows;
    expect(first?.at.map((m) => m?.id)).toEqual(['m1', 'm2']);
  });
});
