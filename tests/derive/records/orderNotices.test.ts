import { describe, expect, it } from 'vitest';
import { orderNotices } from '../../../renderer/derive/records/orderNotices';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

/** Drawn on 1 March; harvested on a day, with a rule fixed on another. */
function plan(dates: {
  harvest?: string | null;
  planted?: string;
  fixed?: { date: string; valuesThen: number };
}): Plan {
  const drawn = drawnPlan(dates.planted ?? '2026-03-01');
  if (!drawn.trial) throw new Error('the sample has a trial');
  const measurements = drawn.trial.measurements.map((m) =>
    m.id === 'm2' ? { ...m, date: dates.harvest ?? null } : { ...m, date: '2026-02-20' },
  );
  const values = { m1: { 't1:1:1': 2 }, m2: { 't1:1:1': 12, 't1:1:2': 9 } };
  const analysisLocked = dates.fixed ? { analysisLocked: dates.fixed } : {};
  return {
    ...drawn,
    trial: { ...drawn.trial, ...analysisLocked, measurements, primaryOutcomeId: 'm2' },
    records: { ...drawn.records, values },
  };
}

describe('the order of draw, planting, rule and harvest', () => {
  it('is silent where the draw came first, on the same day at the latest', () => {
    const fixed = { date: '2026-03-01', valuesThen: 0 };
    expect(orderNotices(plan({ harvest: '2026-03-01', fixed }))).toEqual([]);
    expect(orderNotices(plan({ harvest: null, fixed }))).toEqual([]);
  });

  it('is told where a layout is younger than what was recorded or planted', () => {
    const locked = { date: '2026-02-28', valuesThen: 0 };
    const [late, ...more] = orderNotices(plan({ harvest: '2026-02-28', fixed: locked }));
    expect(more).toEqual([]);
    expect(late).toMatchObject({ kind: 'planted-before-draw', severity: 'stop' });
    expect(late?.text).toBe(
      'The layout was drawn on 2026-03-01, after 2 values of fresh weight at harvest from 2026-02-28. A draw cannot decide treatments that plants already had.',
    );
    expect(orderNotices(plan({ planted: '2026-02-27', fixed: locked }))).toMatchObject([
      { kind: 'planted-before-draw', severity: 'warn' },
    ]);
  });

  it('says nothing of a draw that shuffled nothing', () => {
    const late = plan({ harvest: '2026-02-28', fixed: { date: '2026-02-28', valuesThen: 0 } });
    const factors = late.trial?.factors.map((f) => ({ ...f, kind: 'fixed' as const })) ?? [];
    expect(orderNotices({ ...late, trial: late.trial && { ...late.trial, factors } })).toEqual([]);
  });

  it('is told where values are recorded and the analysis was never locked', () => {
    const open = plan({ harvest: '2026-04-01' });
    expect(orderNotices(open)).toMatchObject([
      {
        kind: 'rule-fixed-late',
        severity: 'warn',
        about: ['measurement:m2'],
        text: 'The analysis is not locked, and 2 values of fresh weight at harvest are recorded. The results may guide it.',
      },
    ]);
    // Starting values guide nothing, and without factors there is nothing to be found.
    const { m1 = {} } = open.records.values;
    expect(orderNotices({ ...open, records: { ...open.records, values: { m1 } } })).toEqual([]);
    expect(orderNotices({ ...open, trial: open.trial && { ...open.trial, factors: [] } })).toEqual(
      [],
    );
  });

  it('is told where the rule was fixed with results in view', () => {
    const harvest = '2026-04-01';
    const fixed = (date: string, valuesThen: number) =>
      orderNotices(plan({ harvest, fixed: { date, valuesThen } }));
    expect(fixed('2026-04-01', 0)).toEqual([]);
    expect(fixed('2026-04-02', 0)[0]?.text).toBe(
      'The analysis was locked on 2026-04-02, after fresh weight at harvest was taken on 2026-04-01. The results may have guided it.',
    );
    expect(fixed('2026-03-02', 1)).toMatchObject([{ kind: 'rule-fixed-late', severity: 'warn' }]);
  });
});
