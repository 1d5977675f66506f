import { expect, it } from 'vitest';
import { recordsLook } from '../../../renderer/panes/records/look';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

const plan: Plan = {
  ...drawnPlan(),
  records: {
    values: { m1: { 't1:1:1': 2 }, m2: { 't1:1:1': 20 } },
    second: {},
    marks: { 't1:1:2': { mark: 'dead', date: '2026-03-09', reason: 'rot' } },
    incidents: [
      { id: 'i1', date: '2026-03-19', text: 'Pump failed', about: ['t1'] },
      { id: 'i2', date: '2026-03-20', text: 'Lamp died', about: ['l2'] },
    ],
  },
};

it('tells the log of a pot and what became of its plant where the pointer is', () => {
  const { potPaint, ringed } = recordsLook(plan, []);
  const said = (id: string) => potPaint?.get(id)?.words;
  expect(said('t1:1:1')).toBe('2026-03-19: Pump failed');
  expect(said('t1:1:2')).toBe('dead since 2026-03-09: rot · 2026-03-19: Pump failed');
  expect(said('t2:1:1')).toBe('2026-03-20: Lamp died');
  expect([...ringed]).toEqual([
    ['tray:t1', 'note'],
    ['lamp:l2', 'note'],
  ]);
  const quiet = { ...plan, records: { ...plan.records, incidents: [] } };
  expect(recordsLook(quiet, []).potPaint?.get('t2:1:1')?.words).toBeUndefined();
});

it('tells the log of trays, lamps and shelves where the pointer is', () => {
  const incidents = [
    ...plan.records.incidents,
    { id: 'i3', date: '2026-03-21', text: 'Door left open', about: [] },
  ];
  const { words } = recordsLook({ ...plan, records: { ...plan.records, incidents } }, []);
  const [first, second] = plan.rack.shelves;
  const door = '2026-03-21: Door left open';
  expect(words?.get('tray:t1')).toBe(`2026-03-19: Pump failed · ${door}`);
  expect(words?.get('tray:t2')).toBe(`2026-03-20: Lamp died · ${door}`);
  expect(words?.get('lamp:l2')).toBe(`2026-03-20: Lamp died · ${door}`);
  for (const shelf of [first, second]) expect(words?.get(`shelf:${shelf?.id ?? ''}`)).toBe(door);
  expect(recordsLook(plan, []).words?.get(`shelf:${first?.id ?? ''}`)).toBeUndefined();
});

it('is one and the same while nothing that is painted has changed', () => {
  const notice: Notice = {
    kind: 'value-suspicious',
    severity: 'warn',
    stage: 'records',
    about: ['pot:t1:1:1'],
    text: 'Far from the others.',
    remedy: 'Look.',
  };
  const before = recordsLook(plan, [notice]);
  expect(recordsLook({ ...plan, title: 'Renamed' }, [{ ...notice, text: 'Still far.' }])).toBe(
    before,
  );
  expect(recordsLook(plan, [{ ...notice, severity: 'stop' }])).not.toBe(before);
  const values = { ...plan.records.values, m2: { 't1:1:1': 20, 't1:1:3': 21 } };
  const typed = { ...plan, records: { ...plan.records, values } };
  expect(recordsLook(typed, [notice]).potPaint).not.toBe(before.potPaint);
});

it('stays one and the same where a value is corrected, not where one comes or goes', () => {
  const typed = (values: Plan['records']['values']) =>
    recordsLook({ ...plan, records: { ...plan.records, values } }, []);
  const before = typed({ m1: { 't1:1:1': 2 }, m2: { 't1:1:1': 20 } });
  expect(typed({ m1: { 't1:1:1': 2.5 }, m2: { 't1:1:1': 20 } })).toBe(before);
  expect(typed({ m1: {}, m2: { 't1:1:1': 20 } })).not.toBe(before);
  const more = typed({ m1: { 't1:1:1': 2, 't2:1:1': 3 }, m2: { 't1:1:1': 20 } });
  expect(more.potPaint?.get('t2:1:1')).not.toEqual(before.potPaint?.get('t2:1:1'));
});
