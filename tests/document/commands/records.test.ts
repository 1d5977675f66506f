import { describe, expect, it } from 'vitest';
import {
  dropTrial,
  editTrial,
  enterValues,
  importValues,
  markPots,
  notePot,
  removeMeasurement,
  dateValues,
  setTare,
  settleMark,
  settleValue,
  swapPots,
} from '../../../renderer/document/commands';
import {
  disagreements,
  incidentRefs,
  incidentsOfPot,
  secondEntryOf,
} from '../../../renderer/document/queries';
import { potsToMeasure } from '../../../renderer/document/queries';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';
import { refusal, run } from '../../builders/run';

const pot = 't1:1:1';
const accepted = (measurementId: string) => ({
  kind: 'value-out-of-range',
  about: [`measurement:${measurementId}`, `pot:${pot}`],
  reason: 'weighed twice',
  date: null,
});

function recorded(): Plan {
  const plan = drawnPlan();
  return {
    ...plan,
    records: { ...plan.records, values: { m1: { [pot]: 2 }, m2: { [pot]: 99 } } },
    acceptedNotices: [accepted('m1'), accepted('m2')],
  };
}

describe('an accepted value', () => {
  it('loses its acceptance when it changes, and no other does', () => {
    const entries = [{ potId: pot, value: 98 }];
    const after = run(recorded(), enterValues, { measurementId: 'm2', entries });
    expect(after.acceptedNotices).toEqual([accepted('m1')]);
    const values = [{ measurementId: 'm2', potId: pot, value: 98 }];
    expect(run(recorded(), importValues, { values }).acceptedNotices).toEqual([accepted('m1')]);
  });

  it('keeps it when the same value is entered again, or entered by the second person', () => {
    const same = { measurementId: 'm2', entries: [{ potId: pot, value: 99 }] };
    expect(run(recorded(), enterValues, same).acceptedNotices).toHaveLength(2);
    const second = { measurementId: 'm2', entries: [{ potId: pot, value: 9 }], second: true };
    expect(run(recorded(), enterValues, second).acceptedNotices).toHaveLength(2);
  });
});

describe('double entry', () => {
  it('lists what differs, and nothing that one person alone has entered', () => {
    const plan: Plan = {
      ...recorded(),
      records: {
        ...recorded().records,
        values: { m2: { [pot]: 99, 't1:1:2': 8, 't1:1:3': 7 } },
        second: { m2: { [pot]: 9.9, 't1:1:2': 8, 't2:1:1': 5 } },
      },
    };
    expect(disagreements(plan)).toMatchObject([{ pot: { id: pot }, first: 99, second: 9.9 }]);
    const settled = run(plan, settleValue, { measurementId: 'm2', potId: pot, value: 9.9 });
    expect(disagreements(settled)).toEqual([]);
    expect(settled.records.values['m2']?.[pot]).toBe(9.9);
  });
});

describe('states of plants in double entry', () => {
  const dead = { mark: 'dead', date: '2026-03-09', reason: '' } as const;
  const other = 't1:1:2';
  const base = (): Plan => {
    const plan = drawnPlan();
    return { ...plan, records: { ...plan.records, values: { m2: { [pot]: 12 } } } };
  };
  const markSecond = (plan: Plan, potId: string) =>
    run(plan, markPots, { potIds: [potId], mark: dead, second: true });

  it('leaves the first entry as it is and is a difference to settle', () => {
    const plan = markSecond(base(), pot);
    expect(plan.records.marks).toEqual({});
    expect(disagreements(plan)).toMatchObject([
      { kind: 'state', pot: { id: pot }, first: null, second: { mark: 'dead' } },
    ]);
    const alive = run(plan, settleMark, { potId: pot, mark: null });
    expect(alive.records).toEqual(base().records);
    const gone = run(plan, settleMark, { potId: pot, mark: dead });
    expect(gone.records.marks).toEqual({ [pot]: dead });
    expect(disagreements(gone)).toEqual([]);
  });

  it('is none where both say the same, or the first person has not got there yet', () => {
    expect(disagreements(markSecond(base(), other))).toEqual([]);
    const both = run(markSecond(base(), other), markPots, { potIds: [other], mark: dead });
    expect(disagreements(both)).toEqual([]);
  });

  it('holds a value against the mark that stands in its place', () => {
    const marked = run(base(), markPots, { potIds: [other], mark: dead });
    const entries = [{ potId: other, value: 9 }];
    const plan = run(marked, enterValues, { measurementId: 'm2', entries, second: true });
    expect(disagreements(plan)).toMatchObject([
      { kind: 'value', pot: { id: other }, first: 'dead', second: 9 },
    ]);
    const settled = run(plan, settleValue, { measurementId: 'm2', potId: other, value: 9 });
    expect(settled.records.marks).toEqual({});
    expect(disagreements(settled)).toEqual([]);
    // Its weight at the start was taken by both while it lived: nothing differs.
    const start = [{ potId: pot, value: 2 }];
    const lived = run(
      run(run(base(), enterValues, { measurementId: 'm1', entries: start }), enterValues, {
        measurementId: 'm1',
        entries: start,
        second: true,
      }),
      markPots,
      { potIds: [pot], mark: dead },
    );
    expect(disagreements(lived)).toEqual([]);
  });

  it('shows the second person nothing of the first entry', () => {
    const plan = run(markSecond(base(), other), markPots, { potIds: [pot], mark: dead });
    const { values, second, marks } = secondEntryOf(plan).records;
    expect({ values, second, marks }).toEqual({ values: {}, second: {}, marks: { [other]: dead } });
  });

  it('takes imported marks of a second entry for the second person', () => {
    const plan = run(base(), importValues, {
      values: [],
      marks: [{ potId: pot, mark: 'missing' }],
      second: true,
    });
    expect(plan.records.marks).toEqual({});
    expect(plan.records.secondMarks).toMatchObject({ [pot]: { mark: 'missing' } });
  });
});

describe('dish and notes', () => {
  it('sets the dish of a weight and takes it away without a trace', () => {
    const set = run(drawnPlan(), setTare, { measurementId: 'm2', tare: 2.5 });
    expect(set.records.tare).toEqual({ m2: 2.5 });
    expect(run(set, setTare, { measurementId: 'm2', tare: 0 }).records.tare).toEqual({});
    expect(refusal(drawnPlan(), setTare, { measurementId: 'm9', tare: 1 })).toContain('m9');
  });

  it('keeps a note with paths, and drops an empty one', () => {
    const note = { text: ' leans ', files: ['photos/a.jpg', ' '] };
    const noted = run(drawnPlan(), notePot, { potId: pot, note });
    expect(noted.records.notes).toEqual({ [pot]: { text: 'leans', files: ['photos/a.jpg'] } });
    const cleared = run(noted, notePot, { potId: pot, note: { text: '', files: [] } });
    expect(cleared.records.notes).toEqual({});
    expect(refusal(drawnPlan(), notePot, { potId: 't1:9:9', note })).toContain('t1:9:9');
  });
});

describe('the day on which a value was taken', () => {
  const enter = (plan: Plan, value: number | null, day?: string) =>
    run(plan, enterValues, { measurementId: 'm2', entries: [{ potId: pot, value }], day });
  const days = ({ records }: Plan) => records.days;
  const dated = () => enter(drawnPlan(), 12, '2026-05-01');

  it('is kept where it is not the day of the measurement', () => {
    expect(days(enter(drawnPlan(), 12))).toBeUndefined();
    expect(days(dated())).toEqual({ m2: { [pot]: '2026-05-01' } });
    const planned = run(drawnPlan(), editTrial, { patch: { harvestDate: '2026-05-01' } });
    expect(days(enter(planned, 12, '2026-05-01'))).toBeUndefined();
  });

  it('stays with a value that is corrected, and goes with one that is cleared', () => {
    expect(days(enter(dated(), 13))).toEqual({ m2: { [pot]: '2026-05-01' } });
    expect(days(enter(enter(dated(), null), 12))).toBeUndefined();
    const gone = run(dated(), removeMeasurement, { measurementId: 'm2', withValues: true });
    expect(days(gone)).toEqual({});
  });

  it('can be put right, moves with the plant, and is not of the second entry', () => {
    const to = (day: string | null) => ({ measurementId: 'm2', potIds: [pot, 't1:1:2'], day });
    expect(days(run(dated(), dateValues, to('2026-05-02')))).toEqual({
      m2: { [pot]: '2026-05-02' },
    });
    expect(days(run(dated(), dateValues, to(null)))).toBeUndefined();
    const exchange = { a: pot, b: 't1:1:2', date: '2026-05-03', reason: '', recordsMove: true };
    expect(days(run(dated(), swapPots, exchange))).toEqual({ m2: { 't1:1:2': '2026-05-01' } });
    const entries = [{ potId: pot, value: 12 }];
    const second = { measurementId: 'm2', entries, second: true, day: '2026-05-04' };
    expect(days(run(dated(), enterValues, second))).toEqual({ m2: { [pot]: '2026-05-01' } });
  });
});

describe('what hangs on a measurement or a pot', () => {
  const dished = () => run(recorded(), setTare, { measurementId: 'm2', tare: 2.5 });

  it('goes with the measurement, the dish included', () => {
    const after = run(dished(), removeMeasurement, { measurementId: 'm2', withValues: true });
    expect(after.records).toMatchObject({ values: { m1: { [pot]: 2 } }, tare: {} });
    const cleared = { ...dished(), records: { ...dished().records, values: {} } };
    expect(run(cleared, dropTrial, {}).records.tare).toBeUndefined();
  });

  it('goes with the plant when two change places after they were measured', () => {
    const noted = run(recorded(), notePot, { potId: pot, note: { text: 'leans', files: [] } });
    const exchange = { a: pot, b: 't1:1:2', date: '2026-03-09', reason: 'fell', recordsMove: true };
    const after = run(noted, swapPots, exchange);
    expect(after.records.notes).toEqual({ 't1:1:2': { text: 'leans', files: [] } });
    expect(after.records.values['m2']).toEqual({ 't1:1:2': 99 });
  });

  it('is checked against the format also where most of it stays', () => {
    const mark = { mark: 'dead', date: '9 March', reason: '' } as const;
    const refused = refusal(recorded(), markPots, { potIds: [pot], mark });
    expect(refused).toContain('a date such as 2026-03-31');
  });
});

describe('incidents', () => {
  it('are those of the pot, its tray, its shelf, its lamps and the whole rack', () => {
    const plan = drawnPlan();
    const incidents = [[pot], ['t1'], ['s1'], ['l1'], [], ['t2'], ['s2', 't1:1:2']].map(
      (about, i) => ({ id: `i${20 + i}`, date: '2026-03-09', text: 'pump off', about }),
    );
    const withLog = { ...plan, records: { ...plan.records, incidents } };
    const [first] = potsToMeasure(plan);
    if (!first) throw new Error('the sample has pots');
    expect(incidentsOfPot(withLog, first).map(({ id }) => id)).toEqual([
      'i20',
      'i21',
      'i22',
      'i23',
      'i24',
    ]);
    expect(incidents.flatMap((incident) => incidentRefs(plan, incident))).toEqual([
      'pot:t1:1:1',
      'tray:t1',
      'shelf:s1',
      'lamp:l1',
      'tray:t2',
      'shelf:s2',
      'pot:t1:1:2',
    ]);
  });
});
