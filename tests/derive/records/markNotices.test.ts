import { expect, it } from 'vitest';
import { entryNotices } from '../../../renderer/derive/records/entryNotices';
import {
  markDayProblem,
  markNotices,
  usualMarkDay,
} from '../../../renderer/derive/records/markNotices';
import { blindNotices } from '../../../renderer/derive/records/secondEntry';
import { recordNotices } from '../../../renderer/derive/records/recordNotices';
import { measuredPotsOf } from '../../../renderer/derive/records/valueQuestions';
import type { Plan } from '../../../shared-types/plan';
import type { Mark } from '../../../shared-types/records';
import { drawnPlan } from '../../builders/samplePlan';

const mark = (date: string | null, kind: Mark['mark'] = 'dead'): Mark => ({
  mark: kind,
  date,
  reason: '',
});

/** The sample from 2 March to 30 April, with marks. */
function marked(...marks: Mark[]): Plan {
  const plan = drawnPlan('2026-03-02');
  if (!plan.trial) throw new Error('the sample has a trial');
  const trial = { ...plan.trial, startDate: '2026-03-02', harvestDate: '2026-04-30' };
  const entries = marks.map((one, i) => [`t1:1:${i + 1}`, one] as const);
  return { ...plan, trial, records: { ...plan.records, marks: Object.fromEntries(entries) } };
}
const texts = (plan: Plan) =>
  markNotices(plan, measuredPotsOf(plan.rack, plan.layout)).map(({ text }) => text);

it('asks about plants that died before the trial or after its end', () => {
  expect(texts(marked(mark('2026-03-01'), mark('2026-05-01', 'missing')))).toEqual([
    '1 plant is marked as dead or missing before the trial began, 2026-03-02: 1A-A1 2026-03-01.',
    '1 plant is marked as dead or missing after the harvest, 2026-04-30: 1A-A2 2026-05-01.',
  ]);
  const plan = marked(mark('2026-03-01'));
  expect(recordNotices(plan).map(({ kind }) => kind)).toContain('dates-implausible');
  expect(markDayProblem(plan, mark('2026-03-01'))).toBe(
    '2026-03-01 is before the trial began, 2026-03-02.',
  );
});

it('is silent on the first and the last day, on no day, on exclusions and on a plan without days', () => {
  expect(texts(marked(mark('2026-03-02'), mark('2026-04-30'), mark(null)))).toEqual([]);
  expect(texts(marked(mark('2026-08-01', 'excluded')))).toEqual([]);
  const plan = marked(mark('2020-01-01'));
  expect(texts({ ...plan, trial: drawnPlan().trial, layout: drawnPlan().layout })).toEqual([]);
});

it('dates a mark by its measurement or the end of the trial where these are past', () => {
  const plan = marked();
  const [start] = plan.trial?.measurements ?? [];
  if (!start) throw new Error('the sample has measurements');
  expect(usualMarkDay(plan, { ...start, date: '2026-03-05' }, '2026-03-20')).toBe('2026-03-05');
  expect(usualMarkDay(plan, start, '2026-03-20')).toBe('2026-03-20');
  expect(usualMarkDay(plan, null, '2026-06-01')).toBe('2026-04-30');
});

it('tells a mark of one entry that stands against the other, and never to the second person', () => {
  const plan = marked(mark('2026-03-09'));
  const second: Plan = {
    ...plan,
    records: {
      ...plan.records,
      second: { m2: { 't1:1:1': 9 } },
      secondMarks: { 't1:1:1': mark(null, 'missing') },
    },
  };
  const notices = entryNotices(second, measuredPotsOf(plan.rack, plan.layout));
  expect(notices.map(({ text }) => text)).toEqual([
    '1A-A1: dead in the first entry, but fresh weight at harvest 9 g in the second.',
    '1A-A1: dead in the first entry, but missing in the second.',
  ]);
  expect(blindNotices(recordNotices(second))).toEqual([]);
});
