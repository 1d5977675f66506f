import { expect, it } from 'vitest';
import { growthByTreatment } from '../../../renderer/derive/findings/growth';
import { harvestNotices } from '../../../renderer/derive/records/harvestNotices';
import { relativeGrowthRate } from '../../../renderer/engine/growth';
import type { Assignment } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

/** The sample, weighed at harvest on 30 April but for the plants that were taken another day. */
function harvested(dayOf: (assignment: Assignment, i: number) => string | null): Plan {
  const plan = drawnPlan('2026-03-02');
  if (!plan.trial || !plan.layout) throw new Error('the sample is drawn');
  const trial = { ...plan.trial, startDate: '2026-03-01', harvestDate: '2026-04-30' };
  const { assignments } = plan.layout;
  const of = (value: number) =>
    Object.fromEntries(assignments.map(({ potId }) => [potId, value] as const));
  const days = assignments.flatMap((one, i) => {
    const day = dayOf(one, i);
    return day === null ? [] : [[one.potId, day] as const];
  });
  return {
    ...plan,
    trial,
    records: {
      ...plan.records,
      values: { m1: of(2), m2: of(16) },
      ...(days.length > 0 ? { days: { m2: Object.fromEntries(days) } } : {}),
    },
  };
}
const said = (plan: Plan) => harvestNotices(plan).map(({ severity, about }) => [severity, about]);

it('warns of a factor that the days go with, and says by how much', () => {
  // Medium alternates pot by pot: bark and clay.
  const late = harvested(({ levels }) => (levels['f2'] === 'v4' ? '2026-05-02' : null));
  const [notice, ...others] = harvestNotices(late);
  expect(others).toEqual([]);
  expect(notice).toMatchObject({ severity: 'warn', about: ['factor:f2', 'measurement:m2'] });
  expect(notice?.text).toBe(
    'Fresh weight at harvest: the plants were taken on 2 days, 2026-04-30 to 2026-05-02, and the day goes with medium. Clay was taken 2.0 days later on average than bark. What differs between them may be growth between these days.',
  );
});

it('notes days that differ between blocks, or within them without favour, and else nothing', () => {
  const plan = harvested((_, i) => ([0, 1].includes(i) ? '2026-05-01' : null));
  expect(said(plan)).toEqual([['note', ['measurement:m2']]]);
  // Light lies on shelves, one a level: here a block's day is a level's day.
  const byTray = harvested(({ block }) => (block === 'tray 2A' ? '2026-05-01' : null));
  expect(said(byTray)).toEqual([['warn', ['factor:f1', 'measurement:m2']]]);
  const { trial } = byTray;
  const factors = trial?.factors.slice(1) ?? [];
  const blocked = { ...byTray, trial: trial && { ...trial, factors } };
  expect(harvestNotices(blocked)[0]).toMatchObject({
    severity: 'note',
    remedy: 'Nothing is to be done: the analysis takes out differences between blocks.',
  });
  expect(said(harvested(() => null))).toEqual([]);
  expect(said(harvested(() => '2026-05-03'))).toEqual([]);
});

it('lets each plant grow for its own days', () => {
  const twice = harvested(({ levels }) => (levels['f2'] === 'v4' ? '2026-06-29' : null));
  const { rows = [] } = growthByTreatment(twice, 'm2') ?? {};
  const rates = new Set(rows.map(({ rate }) => rate?.value.toFixed(6)));
  // 60 and 120 days from 1 March for the same gain.
  const of = (days: number) => relativeGrowthRate({ start: 2, end: 16, days }).toFixed(6);
  expect(rates).toEqual(new Set([of(60), of(120)]));
});
