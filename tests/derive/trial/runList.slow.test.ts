import { describe, expect, it } from 'vitest';
import {
  asNewRun,
  drawnWith,
  drawRuns,
  runListOf,
  swappableFactors,
} from '../../../renderer/derive';
import {
  editTrial,
  enterValues,
  keepLayout,
  markPlanted,
  planRuns,
  setLevelSettings,
} from '../../../renderer/document/commands';
import { nextTrialFrom } from '../../../renderer/document/nextTrial';
import { runsOf, seenFrom, seenFromLast } from '../../../renderer/document/runs';
import { readPlan, writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import { fourShelves } from '../../builders/fourShelves';
import { run } from '../../builders/run';

const light = fourShelves().trial.factors.find(({ name }) => name === 'light')?.id ?? '';
const NOW = '2026-03-01T08:00:00Z';

function drawn(plan: Plan): Plan {
  const layouts = drawRuns(plan, 'any', NOW);
  if (!layouts.ok) throw new Error(layouts.reason);
  return run(plan, keepLayout, layouts.value);
}

function harvested(plan: Plan): Plan {
  const planted = run(plan, markPlanted, { date: '2026-03-02' });
  const harvest = plan.trial?.measurements.find((m) => m.timepoint === 'harvest');
  const potId = plan.layout?.assignments[0]?.potId ?? '';
  const args = { measurementId: harvest?.id ?? '', entries: [{ potId, value: 12 }] };
  return run(planted, enterValues, args);
}

const asRun = (plan: Plan): Plan => {
  const found = asNewRun(plan, 'eight herons', NOW);
  if (!found.ok) throw new Error(found.reason);
  return run(plan, found.value, null);
};

describe('the list of runs', () => {
  it('says of each run how far it has come, and when it is', () => {
    const planned = run(fourShelves(), planRuns, { runs: 3, swappedFactorId: light });
    expect(runListOf(planned).map(({ name, state }) => [name, state])).toEqual([
      ['Run 1', 'planned'],
      ['Run 2', 'planned'],
      ['Run 3', 'planned'],
    ]);
    const dates = { startDate: '2026-03-01', harvestDate: '2026-04-01' };
    const dated = run(drawn(planned), editTrial, { patch: dates });
    expect(runListOf(dated).map(({ dates: said, state }) => [said, state])).toEqual([
      ['2026-03-01 to 2026-04-01', 'drawn'],
      ['', 'drawn'],
      ['', 'drawn'],
    ]);
    const planted = run(drawn(planned), markPlanted, { date: '2026-03-02' });
    expect(runListOf(planted)[0]).toMatchObject({
      dates: '2026-03-02 to 2026-05-18',
      state: 'planted',
    });
    expect(runListOf(harvested(drawn(planned)))[0]?.state).toBe('harvested');
  });
});

describe('a swapped draw', () => {
  it('gives the same layouts again from the seed of any of its runs', () => {
    const two = drawn(run(fourShelves(), planRuns, { runs: 2, swappedFactorId: light }));
    const again = seenFromLast(two);
    expect(again.layout?.seed).toBe('any, Run 2');
    for (const seed of ['any', 'any, Run 2']) {
      const layouts = drawRuns(again, seed, NOW);
      if (!layouts.ok) throw new Error(layouts.reason);
      expect(layouts.value.layout).toEqual(again.layout);
      expect(layouts.value.ofOtherRuns).toEqual([{ runId: two.runId, layout: two.layout }]);
    }
  });

  it('says which runs are drawn with it, as long as they are not grown', () => {
    const two = run(fourShelves(), planRuns, { runs: 2, swappedFactorId: light });
    expect(drawnWith(two)).toBe(
      'Drawn as one act with run 2: the levels of light are swapped between them.',
    );
    expect(drawnWith(fourShelves())).toBeNull();
    const planted = run(drawn(two), markPlanted, { date: '2026-03-02' });
    expect(drawnWith(seenFromLast(planted))).toBeNull();
  });
});

describe('a further run', () => {
  it('can swap any factor of whole units, and later only the one that is swapped', () => {
    const names = (plan: Plan) => swappableFactors(plan).map(({ name }) => name);
    expect(names(fourShelves())).toEqual(['light', 'crop']);
    const two = run(fourShelves(), planRuns, { runs: 2, swappedFactorId: light });
    expect(names(two)).toEqual(['light']);
  });
});

describe('another draw under records', () => {
  it('is a new run, planned and drawn in one step, and the records stay on their own', () => {
    const before = harvested(drawn(fourShelves()));
    const after = asRun(before);
    expect(runsOf(after)).toHaveLength(2);
    expect(after.layout?.seed).toBe('eight herons');
    expect(after.records.values).toEqual({});
    const first = seenFrom(after, before.runId);
    expect(first.layout).toEqual(before.layout);
    expect(first.records).toEqual(before.records);
    expect(readPlan(writePlan(after)).ok).toBe(true);
  });

  it('goes on swapping what earlier runs swapped', () => {
    const two = run(fourShelves(), planRuns, { runs: 2, swappedFactorId: light });
    const first = harvested(drawn(two));
    const second = harvested(seenFromLast(first));
    const third = asRun(second);
    expect(third.swap).toMatchObject({ factorId: light, fromRun: first.runId });
    expect(third.layout).not.toBeNull();
    // What is recorded keeps its draw.
    expect(runsOf(third).map(({ layout }) => layout?.seed)).toEqual([
      ...runsOf(second).map(({ layout }) => layout?.seed),
      'eight herons, Run 3',
    ]);
  });

  it('leaves a recorded run alone that was unlocked since', () => {
    const two = drawn(run(fourShelves(), planRuns, { runs: 2, swappedFactorId: light }));
    const recorded = harvested(two);
    if (!recorded.layout) throw new Error('it is drawn');
    const unlocked = { ...recorded, layout: { ...recorded.layout, plantedAt: null } };
    const second = seenFromLast(unlocked);
    const layouts = drawRuns(second, 'once more', NOW);
    expect(layouts).toMatchObject({ ok: true, value: { ofOtherRuns: [] } });
  });
});

describe('the next trial', () => {
  it('of several runs is a plan with one, on the rack as it is now', () => {
    const two = asRun(harvested(drawn(fourShelves())));
    const levelId = two.trial?.factors.find(({ id }) => id === light)?.levels[0]?.id ?? '';
    const settings = { through: 'light', dimming: 0.4 } as const;
    const edited = run(two, setLevelSettings, { factorId: light, levelId, settings });
    const next = nextTrialFrom(seenFrom(edited, 'run0'));
    expect(runsOf(next)).toHaveLength(1);
    expect(next.swap).toBeUndefined();
    expect(next.trial?.factors.find(({ id }) => id === light)?.levels[0]?.settings).toEqual(
      settings,
    );
    expect(readPlan(writePlan(next)).ok).toBe(true);
  });
});
