import { describe, expect, it } from 'vitest';
import { noticesOf } from '../../renderer/derive';
import { openQuestions } from '../../renderer/derive/records/valueQuestions';
import {
  acceptNotice,
  enterValues,
  planRuns,
  withdrawAcceptance,
} from '../../renderer/document/commands';
import { readPlan, writePlan } from '../../renderer/document/open';
import { inRun, seenFrom, seenFromLast } from '../../renderer/document/runs';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { drawnPlan } from '../builders/samplePlan';
import { twoRuns } from '../builders/twoRuns';

const odd = { kind: 'value-out-of-range', about: ['pot:t1:1:1', 'measurement:m2'] };
const accepting = { ...odd, reason: 'weighed twice', date: null };

/** 900 g, far out of range, in the first pot. */
function weighed(plan: Plan): Plan {
  const trial = plan.trial && {
    ...plan.trial,
    measurements: plan.trial.measurements.map((m) => (m.id === 'm2' ? { ...m, highest: 50 } : m)),
  };
  const entries = [{ potId: 't1:1:1', value: 900 }];
  return run({ ...plan, trial }, enterValues, { measurementId: 'm2', entries });
}
const accepted = (plan: Plan) =>
  noticesOf(plan).find(({ kind }) => kind === odd.kind)?.accepted ?? null;

describe('a notice of the records that is accepted', () => {
  const both = inRun(weighed(twoRuns()), 'run0', weighed);
  const second = run(both, acceptNotice, accepting);

  it('is accepted in its own run alone, and asked about in the others', () => {
    expect(accepted(second)).toBe('weighed twice');
    expect(accepted(seenFrom(second, 'run0'))).toBeNull();
    expect(openQuestions(second).size).toBe(0);
    expect(openQuestions(seenFrom(second, 'run0')).size).toBe(1);
    const read = readPlan(writePlan(second));
    if (!read.ok) throw new Error('it opens');
    expect(accepted(read.plan)).toBe('weighed twice');
  });

  it('stands where another run’s value changes or its acceptance is withdrawn', () => {
    const withdrawn = inRun(second, 'run0', (first) => run(first, withdrawAcceptance, odd));
    expect(withdrawn.acceptedNotices).toEqual(second.acceptedNotices);
    const entries = [{ potId: 't1:1:1', value: 901 }];
    const args = { measurementId: 'm2', entries };
    const changed = inRun(second, 'run0', (first) => run(first, enterValues, args));
    expect(accepted(changed)).toBe('weighed twice');
    expect(accepted(run(second, enterValues, args))).toBeNull();
    expect(run(second, withdrawAcceptance, odd).acceptedNotices).toEqual([]);
  });

  it('before there was another run stays with the first one', () => {
    const once = run(weighed(drawnPlan('2026-03-02')), acceptNotice, accepting);
    expect(once.acceptedNotices).toEqual([accepting]);
    const twice = run(once, planRuns, { runs: 2, swappedFactorId: null });
    expect(accepted(seenFrom(twice, 'run0'))).toBe('weighed twice');
    const layout = once.layout && { ...once.layout, plantedAt: null };
    const grown = weighed({ ...seenFromLast(twice), layout });
    expect(accepted(grown)).toBeNull();
  });

  it('of what the runs share holds for all of them', () => {
    const level = { kind: 'unit-too-few-df', about: ['factor:f1'], reason: 'known', date: null };
    expect(run(both, acceptNotice, level).acceptedNotices).toEqual([level]);
  });
});
