import { describe, expect, it } from 'vitest';
import { paceOf, paceWords } from '../../../renderer/engine/findings';
import type { Plan } from '../../../shared-types/plan';
import { overTime } from '../../builders/harvests';

const plan = overTime();
const main = plan.trial.measurements.find(({ id }) => id === plan.trial.primaryOutcomeId);
if (!main) throw new Error('the plan has a main result');

const paceIn = ({ trial, records, layout }: Plan) => {
  const found = trial && paceOf({ trial, records, layout }, main, 0.95);
  if (!found) throw new Error('there are five dates');
  return found;
};

/** The same with the values of one date by those of another. */
function withValues(id: string, change: (value: number, pot: string) => number): Plan {
  const values = plan.records.values[id] ?? {};
  const other = Object.fromEntries(
    Object.entries(values).map(([pot, value]) => [pot, change(value, pot)]),
  );
  return {
    ...plan,
    records: { ...plan.records, values: { ...plan.records.values, [id]: other } },
  };
}

describe('the pace of growth', () => {
  // The plants of the builder follow a logistic curve with its middle at days 14 to 16: of what is
  // left to grow, 1/(1 + e^((26 − 16)/2.4)) = 1.5 % at the most after day 26, against half in the
  // nine days from day 9.
  it('says from when growth had all but stopped', () => {
    const pace = paceIn(plan);
    expect(pace.spans.map(({ from }) => from)).toEqual([
      '2026-03-02',
      '2026-03-11',
      '2026-03-20',
      '2026-03-28',
    ]);
    expect(pace.stoppedFrom).toBe('2026-03-28');
    expect(pace.slowedFrom).toBe('2026-03-20');
    expect(paceWords(pace)[0]).toMatch(/^Growth had all but stopped from 2026-03-28 on: /);
  });

  it('only slowed where the last span keeps more than a tenth of the pace', () => {
    // 0.15 of the fastest pace, about 4 g a day: nine days of it are 5 to 6 g more at harvest.
    const fastest = Math.max(...paceIn(plan).spans.map(({ perDay }) => perDay));
    const atDay26 = plan.records.values['i3'] ?? {};
    const slower = withValues(main.id, (_, pot) => (atDay26[pot] ?? 0) + 9 * 0.15 * fastest);
    const pace = paceIn(slower);
    expect(pace.stoppedFrom).toBeNull();
    expect(pace.slowedFrom).toBe('2026-03-20');
  });

  it('had not slowed where plants keep growing', () => {
    const pace = paceIn(withValues(main.id, (value) => value + 60));
    expect([pace.stoppedFrom, pace.slowedFrom]).toEqual([null, null]);
    expect(paceWords(pace)[0]).toMatch(/^Growth had not clearly slowed/);
  });

  it('gives the mean gain a day with its t interval', () => {
    const pace = paceIn(plan);
    const [from, to] = [plan.records.values['i1'] ?? {}, plan.records.values['i2'] ?? {}];
    const gains = Object.keys(to).map((pot) => ((to[pot] ?? 0) - (from[pot] ?? 0)) / 9);
    const mean = gains.reduce((sum, g) => sum + g, 0) / 72;
    const sd = Math.sqrt(gains.reduce((sum, g) => sum + (g - mean) ** 2, 0) / 71);
    // qt(0.975, 71) = 1.993943 (R 4.2.2).
    const half = (1.993943 * sd) / Math.sqrt(72);
    expect(pace.spans[1]?.perDay).toBeCloseTo(mean, 10);
    expect(pace.spans[1]?.upper).toBeCloseTo(mean + half, 5);
    expect(pace.spans[1]?.pots).toBe(72);
  });

  it('tells from when treatments stood apart no more clearly, and not where the end was clearest', () => {
    // By the curve strong feed is at day 9 at 11 % of its growth, weak at 5 %: several times the
    // spread of their pots then, 8 g over a spread of 3 g at the end.
    const told = paceIn(plan).toldFrom;
    expect(told?.date).toBe('2026-03-11');
    expect(told?.atLast).toBeGreaterThan(1);
    expect(told?.atLast).toBeLessThan(2);
    expect(told?.apart).toBeGreaterThan(4);
    const [feed] = plan.trial.factors;
    const strong = new Set(
      plan.layout?.assignments
        .filter(({ levels }) => levels[feed?.id ?? ''] === feed?.levels.at(-1)?.id)
        .map(({ potId }) => potId),
    );
    const late = withValues(main.id, (value, pot) => value + (strong.has(pot) ? 40 : 0));
    expect(paceIn(late).toldFrom).toBeNull();
  });
});
