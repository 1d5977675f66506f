import { describe, expect, it } from 'vitest';
import { noticesOf, noticesOfAllRuns } from '../../renderer/derive';
import { enterValues } from '../../renderer/document/commands';
import { inRun, seenFrom } from '../../renderer/document/runs';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { drawnPlan } from '../builders/samplePlan';
import { twoRuns } from '../builders/twoRuns';

const ends = (plan: Plan, harvestDate: string | null): Plan =>
  inRun(plan, 'run0', (first) => ({
    ...first,
    trial: first.trial && {
      ...first.trial,
      harvestDate,
      measurements: first.trial.measurements.map((m) => ({ ...m, date: null })),
    },
  }));
const starts = (plan: Plan, startDate: string | null): Plan => ({
  ...plan,
  trial: plan.trial && { ...plan.trial, startDate },
});
const planted = (plan: Plan, plantedAt: string): Plan => ({
  ...plan,
  layout: plan.layout && { ...plan.layout, plantedAt },
});
const dated = (plan: Plan) =>
  noticesOf(plan).flatMap(({ kind, text }) => (kind === 'dates-implausible' ? [text] : []));

describe('runs that follow one another', () => {
  const plan = starts(twoRuns(), null);

  it.each([
    [starts(ends(plan, '2026-04-30'), '2026-04-29'), 'This run starts on 2026-04-29'],
    [planted(ends(plan, '2026-04-30'), '2026-04-29'), 'This run is planted since 2026-04-29'],
    [planted(ends(plan, null), '2026-06-01'), 'run 1 has no harvest: neither a day nor a value'],
  ])('are not on the rack at one time (%#)', (overlapping, says) => {
    expect(dated(overlapping)).toEqual([expect.stringContaining(says)]);
    expect(dated(seenFrom(overlapping, 'run0'))).toEqual([]);
  });

  it('may meet on one day, and need no day where values or none are there', () => {
    for (const sound of [
      starts(ends(plan, '2026-04-30'), '2026-04-30'),
      planted(ends(plan, '2026-04-30'), '2026-04-30'),
      // Not planted yet, so nothing stands on the rack.
      starts(ends(plan, null), '2026-06-01'),
    ]) {
      expect(dated(sound)).toEqual([]);
    }
    const weight = { measurementId: 'm2', entries: [{ potId: 't1:1:1', value: 9 }] };
    const weighed = inRun(ends(plan, null), 'run0', (first) => run(first, enterValues, weight));
    expect(dated(planted(weighed, '2026-06-01'))).toEqual([]);
  });
});

describe('the notices of all runs', () => {
  const plan = planted(ends(starts(twoRuns(), null), '2026-04-30'), '2026-04-29');
  const all = noticesOfAllRuns(plan, null);

  it('stand each once, and name the run where they are of one', () => {
    expect(new Set(all.map((notice) => JSON.stringify(notice))).size).toBe(all.length);
    const texts = all.map(({ text }) => text);
    expect(texts).toContainEqual(expect.stringMatching(/^Run 2: This run is planted since/));
    // What both runs have of the rack they share is of neither alone.
    const shared = noticesOf(plan).filter(({ stage }) => stage === 'rack' || stage === 'light');
    expect(shared.length).toBeGreaterThan(0);
    for (const { text } of shared)
      expect(texts.filter((one) => one.includes(text))).toEqual([text]);
  });

  it('name both runs for what each has of its own', () => {
    const missing = [plan.runId, 'run0'].reduce(
      (sum, id) => inRun(sum, id, (seen) => ({ ...seen, layout: null })),
      plan,
    );
    const layouts = noticesOfAllRuns(missing, null).filter(({ kind }) => kind === 'layout-missing');
    expect(layouts).toHaveLength(1);
    expect(layouts[0]?.text).toMatch(/^Runs 1 and 2: /);
  });

  it('of a trial that is grown once are the notices as they are', () => {
    expect(noticesOfAllRuns(drawnPlan(), null)).toEqual(noticesOf(drawnPlan()));
  });
});
