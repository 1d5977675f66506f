import { describe, expect, it } from 'vitest';
import { drawRuns, verifyOf } from '../../renderer/derive';
import {
  dropTrial,
  editLamps,
  editTray,
  enterValues,
  keepLayout,
  markPlanted,
  planRuns,
  removeFactor,
  removeMeasurement,
  removeRun,
  setLevelSettings,
} from '../../renderer/document/commands';
import { readPlan, writePlan } from '../../renderer/document/open';
import { runName, runsOf, seenFrom, seenFromLast } from '../../renderer/document/runs';
import type { Plan } from '../../shared-types/plan';
import { fourShelves } from '../builders/fourShelves';
import { refusal, run } from '../builders/run';

const light = fourShelves().trial.factors.find(({ name }) => name === 'light')?.id ?? '';

const swapped = (runs = 3): Plan => run(fourShelves(), planRuns, { runs, swappedFactorId: light });

function drawn(plan: Plan, seed = 'any'): Plan {
  const layouts = drawRuns(plan, seed, '2026-03-01T08:00:00Z');
  if (!layouts.ok) throw new Error(layouts.reason);
  return run(plan, keepLayout, layouts.value);
}

const planted = (plan: Plan, date: string): Plan => run(plan, markPlanted, { date });

/** Level of the light on each shelf, by shelf id. */
function lightOn(plan: Plan): Map<string, string | undefined> {
  const shelfOf = new Map(
    plan.rack.shelves.flatMap((shelf) => shelf.trays.map((tray) => [tray.id, shelf.id] as const)),
  );
  return new Map(
    (plan.layout?.assignments ?? []).map(({ potId, levels }) => [
      shelfOf.get(potId.split(':')[0] ?? '') ?? '',
      levels[light],
    ]),
  );
}

const lampOf = (plan: Plan) => plan.rack.shelves[0]?.lamps[0];
const raise = (plan: Plan) => ({
  edits: [{ lampId: lampOf(plan)?.id ?? '', patch: { zMm: (lampOf(plan)?.zMm ?? 0) - 20 } }],
});

describe('the runs of a trial', () => {
  it('are seen one at a time, and looking changes nothing', () => {
    const plan = drawn(swapped());
    const [first, second, third] = runsOf(plan).map(({ id }) => id);
    expect(runsOf(plan)).toHaveLength(3);
    for (const id of [second, third, first, third]) {
      const seen = seenFrom(plan, id ?? '');
      expect(seen.runId).toBe(id);
      expect(runsOf(seen)).toEqual(runsOf(plan));
      expect(seenFrom(seen, plan.runId)).toBe(plan);
    }
    expect(runName(plan, second)).toBe('Run 2');
  });

  it('come back from the file as they were, seen from the last', () => {
    const plan = planted(drawn(swapped()), '2026-03-02');
    const read = readPlan(writePlan(plan));
    expect(read).toEqual({ ok: true, plan: seenFromLast(plan), migratedFrom: null });
    expect(writePlan(seenFromLast(plan))).toBe(writePlan(plan));
  });

  it('draw the swapped levels as one act: every shelf takes the other light in the next run', () => {
    const plan = drawn(swapped(4));
    const [one, two, three, four] = runsOf(plan).map(({ id }) => lightOn(seenFrom(plan, id)));
    for (const [shelf, level] of one ?? []) {
      expect(two?.get(shelf)).not.toBe(level);
      expect(three?.get(shelf)).toBe(level);
      expect(four?.get(shelf)).toBe(two?.get(shelf));
    }
    // What stands on pots is drawn anew in each run.
    const media = runsOf(plan).map(({ layout }) =>
      layout?.assignments.map(({ levels }) => Object.values(levels).join()).join(),
    );
    expect(new Set(media).size).toBe(4);
    for (const { id } of runsOf(plan)) {
      expect(verifyOf(seenFrom(plan, id))).toMatchObject({ redrawn: true, differing: [] });
    }
  });

  it('start with either light on a shelf by chance', () => {
    const starts = new Set(
      Array.from({ length: 12 }, (_, i) => [...lightOn(drawn(swapped(2), `${i}`)).values()].join()),
    );
    expect(starts.size).toBeGreaterThan(1);
  });

  it('keep what a planted run is grown on, and later edits act on later runs', () => {
    const plan = planted(drawn(swapped()), '2026-03-02');
    const [first, second] = runsOf(plan).map(({ id }) => id);
    const was = lampOf(plan)?.zMm;
    expect(refusal(plan, editLamps, raise(plan))).toContain('Planted since 2026-03-02');
    const later = seenFrom(plan, second ?? '');
    const edited = run(later, editLamps, raise(later));
    expect(lampOf(edited)?.zMm).not.toBe(was);
    expect(lampOf(seenFromLast(edited))?.zMm).toBe(lampOf(edited)?.zMm);
    expect(lampOf(seenFrom(edited, first ?? ''))?.zMm).toBe(was);
    const read = readPlan(writePlan(edited));
    if (!read.ok) throw new Error(JSON.stringify(read.problem));
    expect(lampOf(seenFrom(read.plan, first ?? ''))?.zMm).toBe(was);
  });

  it('keep what the levels set then', () => {
    const settings = { through: 'light', dimming: 0.4 } as const;
    const plan = planted(drawn(swapped()), '2026-03-02');
    const levelId = plan.trial?.factors.find(({ id }) => id === light)?.levels[0]?.id ?? '';
    const args = { factorId: light, levelId, settings };
    const settingsIn = (at: Plan) =>
      at.trial?.factors.flatMap((f) => f.levels).find(({ id }) => id === levelId)?.settings;
    const was = settingsIn(plan);
    const later = seenFromLast(plan);
    const edited = run(later, setLevelSettings, args);
    expect(settingsIn(edited)).toEqual(settings);
    expect(settingsIn(seenFrom(edited, plan.runId))).toEqual(was);
  });

  it('hold what others stand on: no factor, tray or measurement goes from under a planted run', () => {
    const plan = planted(drawn(swapped()), '2026-03-02');
    const last = seenFromLast(plan);
    expect(refusal(last, removeFactor, { factorId: light })).toMatch(/^Run 1: Pot .* planted/);
    const m = last.trial?.primaryOutcomeId ?? '';
    const pot = plan.layout?.assignments[0]?.potId ?? '';
    const recorded = seenFromLast(
      run(plan, enterValues, { measurementId: m, entries: [{ potId: pot, value: 3 }] }),
    );
    expect(refusal(recorded, removeMeasurement, { measurementId: m, withValues: true })).toContain(
      'has values in Run 1',
    );
    // A tray may move for the runs to come.
    const tray = last.rack.shelves[0]?.trays[0];
    const moved = { trayId: tray?.id ?? '', patch: { xMm: (tray?.xMm ?? 0) + 1 } };
    expect(refusal(last, editTray, moved)).toBe('done');
  });

  it('forget the exchange of levels of a factor or trial that is gone, and open again', () => {
    for (const plan of [
      run(swapped(2), removeFactor, { factorId: light }),
      run(swapped(2), dropTrial, {}),
    ]) {
      expect(runsOf(plan).map(({ swap }) => swap)).toEqual([undefined, undefined]);
      expect(readPlan(writePlan(plan))).toMatchObject({ ok: true });
    }
  });

  it('lose a layout that was drawn for a factor that is gone, and nothing else', () => {
    const plan = drawn(swapped());
    const medium = plan.trial?.factors.find(({ name }) => name === 'medium')?.id ?? '';
    const without = run(plan, removeFactor, { factorId: medium });
    expect(runsOf(without).map(({ layout }) => layout)).toEqual([null, null, null]);
    expect(runsOf(without)).toHaveLength(3);
  });

  it('follow one another, and only a run never grown can be taken back', () => {
    const plan = drawn(swapped());
    const [first, second, third] = runsOf(plan).map(({ id }) => id);
    expect(refusal(seenFrom(plan, second ?? ''), markPlanted, { date: '2026-03-02' })).toContain(
      'Run 1 is not planted yet',
    );
    expect(refusal(plan, removeRun, { runId: first ?? '' })).toContain(
      'takes its levels from run 1',
    );
    const two = run(plan, removeRun, { runId: third ?? '' });
    expect(runsOf(two).map(({ id }) => id)).toEqual([first, second]);
    const grown = planted(two, '2026-03-02');
    expect(refusal(grown, removeRun, { runId: first ?? '' })).toContain('planted since');
    const one = run(grown, removeRun, { runId: second ?? '' });
    expect(runsOf(one).map(({ id }) => id)).toEqual([first]);
    expect(one.rack).toEqual(grown.rack);
    expect(readPlan(writePlan(one)).ok).toBe(true);
  });

  it('are swapped after a first run that nobody drew: from where its levels stood', () => {
    const given = drawn(fourShelves());
    const plan = run(planted(given, '2026-03-02'), planRuns, { runs: 2, swappedFactorId: light });
    expect(runName(plan)).toBe('Run 2');
    const second = drawn(plan);
    const before = lightOn(seenFrom(second, 'run0'));
    for (const [shelf, level] of lightOn(second)) expect(before.get(shelf)).not.toBe(level);
  });
});
