import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { noticesOf } from '../../../renderer/derive';
import { recordNotices } from '../../../renderer/derive/records/recordNotices';
import { openQuestions, valueQuestions } from '../../../renderer/derive/records/valueQuestions';
import { enterValues } from '../../../renderer/document/commands';
import { acceptNotice } from '../../../renderer/document/commands';
import { potsToMeasure } from '../../../renderer/document/queries';
import { readPlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';

type Values = Record<string, number>;

/** The sample with fresh weights from 0 to 50 g; every pot has 2 g at the start and 20 at harvest. */
function soundPlan(): Plan {
  const plan = drawnPlan();
  const trial = plan.trial;
  if (!trial) throw new Error('the sample has a trial');
  const of = (value: number) =>
    Object.fromEntries(potsToMeasure(plan).map((pot) => [pot.id, value]));
  const measurements = trial.measurements.map((m) => ({ ...m, lowest: 0, highest: 50 }));
  const values = { m1: of(2), m2: of(20) };
  return { ...plan, trial: { ...trial, measurements }, records: { ...plan.records, values } };
}

function harvest(changed: Values): Plan {
  const plan = soundPlan();
  const { values } = plan.records;
  return {
    ...plan,
    records: { ...plan.records, values: { ...values, m2: { ...values['m2'], ...changed } } },
  };
}

const kinds = (plan: Plan) => recordNotices(plan).map(({ kind }) => kind);
const marked = (plan: Plan, mark: 'dead' | 'missing'): Plan => ({
  ...plan,
  records: { ...plan.records, marks: { 't1:1:2': { mark, date: null, reason: '' } } },
});
const withoutPot = (values: Values | undefined, potId: string): Values =>
  Object.fromEntries(Object.entries(values ?? {}).filter(([id]) => id !== potId));
const without = (plan: Plan, potId: string): Plan => ({
  ...plan,
  records: {
    ...plan.records,
    values: { ...plan.records.values, m2: withoutPot(plan.records.values['m2'], potId) },
  },
});
const measuring = (plan: Plan, change: Partial<Measurement>): Plan => ({
  ...plan,
  trial: plan.trial && {
    ...plan.trial,
    measurements: plan.trial.measurements.map((m) => (m.id === 'm2' ? { ...m, ...change } : m)),
  },
});

describe('notices of the records', () => {
  it('are silent over a sound plan and over all examples', () => {
    expect(kinds(soundPlan())).toEqual([]);
    const folder = join(import.meta.dirname, '../../../renderer/app/examples');
    const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
    expect(files.length).toBeGreaterThan(3);
    for (const file of files) {
      const read = readPlan(readFileSync(join(folder, file), 'utf8'));
      if (!read.ok) throw new Error(`${file} does not open`);
      expect([file, recordNotices(read.plan)]).toEqual([file, []]);
    }
  });

  it('ask about a value outside its range, not about one on its bound', () => {
    // The pots around lie so wide apart that the value stands out by its range alone.
    const wide = { 't1:1:1': 11, 't1:1:3': 45, 't1:2:1': 12, 't1:2:2': 48, 't1:2:3': 30 };
    expect(kinds(harvest(wide))).toEqual([]);
    const out = harvest({ ...wide, 't1:1:2': 50.1 });
    const on = harvest({ ...wide, 't1:1:2': 50 });
    expect(recordNotices(out)).toMatchObject([
      {
        kind: 'value-out-of-range',
        about: ['pot:t1:1:2', 'measurement:m2'],
        text: expect.stringContaining('50.1 g is outside 0 to 50.') as unknown,
      },
    ]);
    expect(kinds(on)).toEqual([]);
  });

  it('ask about a value five robust deviations from its neighbours and tray, not about a nearer one', () => {
    // Five pots of 18 to 22 around, median 20, median absolute deviation 1: a standard deviation
    // of 1.4826, and of the whole tray hardly more. 5 × 1.4826 = 7.4.
    const around = { 't1:1:1': 18, 't1:1:3': 19, 't1:2:1': 20, 't1:2:2': 21, 't1:2:3': 22 };
    expect(kinds(harvest({ ...around, 't1:1:2': 32 }))).toEqual(['value-suspicious']);
    expect(kinds(harvest({ ...around, 't1:1:2': 26 }))).toEqual([]);
  });

  it('ask about a plant that fell below its start, not about one that stood still', () => {
    const plan = (value: number): Plan => {
      const grown = harvest({ 't1:1:1': value });
      const m1 = { ...grown.records.values['m1'], 't1:1:1': 19.8 };
      const values = { ...grown.records.values, m1 };
      return { ...grown, records: { ...grown.records, values } };
    };
    const fell = recordNotices(plan(19.7)).filter(({ about }) => about.includes('measurement:m2'));
    expect(fell).toMatchObject([{ kind: 'value-suspicious' }]);
    expect(fell[0]?.text).toContain('fell from 19.8 g at the start to 19.7 g');
    const stood = recordNotices(plan(19.8)).filter(({ about }) => about.includes('measurement:m2'));
    expect(stood).toEqual([]);
  });

  it('ask about a count that is not whole', () => {
    const count = { kind: 'count', unit: 'leaves', decimals: 0 } as const;
    expect(kinds(measuring(harvest({ 't1:1:1': 20.5 }), count))).toEqual(['value-suspicious']);
    expect(kinds(measuring(harvest({ 't1:1:1': 21 }), count))).toEqual([]);
  });

  it('say which pots are not recorded, once a measurement is begun', () => {
    const lacking = without(soundPlan(), 't1:1:2');
    expect(recordNotices(lacking)).toMatchObject([
      { kind: 'record-missing', severity: 'note', about: ['measurement:m2', 'pot:t1:1:2'] },
    ]);
    expect(kinds(marked(lacking, 'dead'))).toEqual([]);
    const { m1 = {} } = soundPlan().records.values;
    const begun = soundPlan();
    expect(kinds({ ...begun, records: { ...begun.records, values: { m1 } } })).toEqual([]);
  });

  it('name pots with records that the trial does not measure', () => {
    expect(recordNotices(harvest({ 't1:9:9': 20 }))).toMatchObject([
      { kind: 'unknown-pot', about: ['plan'] },
    ]);
    expect(kinds(harvest({ 't1:2:3': 20 }))).toEqual([]);
  });

  it('name pots with notes that are not on the rack; a guard pot may have one', () => {
    const noted = (potId: string): Plan => {
      const plan = soundPlan();
      const layout = plan.layout && {
        ...plan.layout,
        assignments: plan.layout.assignments.filter((a) => a.potId !== 't2:2:3'),
      };
      const { values } = plan.records;
      const m1 = withoutPot(values['m1'], 't2:2:3');
      const m2 = withoutPot(values['m2'], 't2:2:3');
      const notes = { [potId]: { text: 'algae', files: [] } };
      return { ...plan, layout, records: { ...plan.records, values: { m1, m2 }, notes } };
    };
    expect(kinds(noted('t1:9:9'))).toEqual(['unknown-pot']);
    expect(kinds(noted('t2:2:3'))).toEqual([]);
  });

  it('show where two people disagree, not where they agree', () => {
    const entered = (value: number): Plan => {
      const plan = soundPlan();
      return { ...plan, records: { ...plan.records, second: { m2: { 't1:1:1': value } } } };
    };
    expect(kinds(entered(20.1))).toEqual(['double-entry-differs']);
    expect(kinds(entered(20))).toEqual([]);
  });

  it('say all that is odd about one value in one notice of a kind', () => {
    const count = { kind: 'count', unit: 'leaves', decimals: 0 } as const;
    const plan = measuring(harvest({ 't1:1:2': 44.5 }), count);
    expect(kinds(plan)).toEqual(['value-suspicious']);
    expect(recordNotices(plan)[0]?.text).toMatch(/not whole\..*far from/);
  });
});

describe('questions about values', () => {
  it('are answered by accepting the notice, for that measurement of that pot alone', () => {
    const plan = harvest({ 't1:1:1': 51, 't1:1:2': 52 });
    const open = openQuestions(plan);
    expect([...open.keys()]).toEqual(['m2 t1:1:1', 'm2 t1:1:2']);
    let answered = plan;
    for (const { kind, about } of open.get('m2 t1:1:1') ?? []) {
      const args = { kind, about, reason: 'weighed twice', date: '2026-04-02' };
      answered = run(answered, acceptNotice, args);
    }
    expect([...openQuestions(answered).keys()]).toEqual(['m2 t1:1:2']);
    const told = noticesOf(answered).filter(({ about }) => about.includes('pot:t1:1:1'));
    expect(told.every(({ accepted }) => accepted === 'weighed twice')).toBe(true);
    const again = run(answered, enterValues, {
      measurementId: 'm2',
      entries: [{ potId: 't1:1:1', value: 53 }],
    });
    expect([...openQuestions(again).keys()]).toContain('m2 t1:1:1');
  });

  it('of one measurement stay as they are when another is typed', () => {
    const plan = harvest({ 't1:1:1': 51 });
    const entries = [{ potId: 't1:1:2', value: 2.1 }];
    const typed = run(plan, enterValues, { measurementId: 'm1', entries });
    expect(valueQuestions(typed).map(({ text }) => text)).toEqual(
      valueQuestions(plan).map(({ text }) => text),
    );
  });
});
