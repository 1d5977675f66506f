import { expect, it } from 'vitest';
import { findingsOfPlan } from '../../../renderer/derive';
import { racksChosen, racksOf, shownOn } from '../../../renderer/panes/findings/onRack/rackShown';
import { smallBasil } from '../../builders/smallBasil';

const plan = smallBasil();
const outcome = findingsOfPlan(plan);
const result = plan.records.values[plan.trial.primaryOutcomeId ?? ''] ?? {};

it('offers what there is to show, and nothing of a start that was not weighed', () => {
  const all = ['treatment', 'light', 'start', 'harvest', 'growth', 'residual'];
  expect(racksOf(plan, outcome)).toEqual(all);
  const [start] = plan.trial.measurements.filter(({ timepoint }) => timepoint === 'start');
  const { [start?.id ?? '']: _gone, ...values } = plan.records.values;
  const unweighed = { ...plan, records: { ...plan.records, values } };
  expect(racksOf(unweighed, outcome)).not.toContain('growth');
  expect(racksOf(unweighed, outcome)).not.toContain('start');
});

it('shows treatments in place of a result that is out of date, and nothing twice', () => {
  const early = racksOf(plan, null);
  expect(early).toEqual(['treatment', 'light', 'start']);
  expect(racksChosen(early, 'harvest', 'light')).toEqual({ first: 'treatment', beside: 'light' });
  expect(racksChosen(early, 'light', 'residual')).toEqual({ first: 'light', beside: null });
  expect(racksChosen(racksOf(plan, outcome), 'light', 'light').beside).toBeNull();
  expect(racksChosen(racksOf(plan, outcome), 'harvest', 'none').beside).toBeNull();
});

it('shows each pot its own value on one scale over all shelves', () => {
  const shown = shownOn(plan, outcome, 'harvest');
  expect(Object.fromEntries(shown?.values ?? [])).toEqual(result);
  expect(shown).toMatchObject({
    from: Math.min(...Object.values(result)),
    to: Math.max(...Object.values(result)),
  });
  const start = shownOn(plan, outcome, 'start');
  for (const [id, gained] of shownOn(plan, outcome, 'growth')?.values ?? []) {
    expect(gained).toBeCloseTo((result[id] ?? NaN) - (start?.values.get(id) ?? NaN), 12);
  }
});

it('gets darker all the way from little to much, so that it reads in grey', () => {
  const shown = shownOn(plan, outcome, 'harvest');
  const luminance = (share: number) => {
    const [r = 0, g = 0, b = 0] = (shown?.colour(share).match(/\d+/g) ?? []).map(Number);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const steps = Array.from({ length: 21 }, (_, i) => luminance(i / 20));
  expect(steps).toEqual([...steps].sort((a, b) => b - a));
});
