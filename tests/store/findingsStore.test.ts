import { describe, expect, it } from 'vitest';
import { editNotes, enterValues, renameLevel } from '../../renderer/document/commands';
import { createFindingsStore, isCurrent } from '../../renderer/store/findingsStore';
import type { FindingsOutcome } from '../../renderer/engine/findings';
import { drawnPlan } from '../builders/samplePlan';
import { run } from '../builders/run';
import { Refusal } from '../../renderer/words';

interface Waiting {
  done: (outcome: FindingsOutcome) => void;
  fail: (error: unknown) => void;
  tell: (done: number, total: number) => void;
  cancelled: boolean;
}

/** A runner whose answers are given by hand, in any order. */
function setUp() {
  const waiting: Waiting[] = [];
  const store = createFindingsStore((_input, _choice, tell) => {
    const own = { cancelled: false, tell } as Waiting;
    const result = new Promise<FindingsOutcome>((done, fail) => Object.assign(own, { done, fail }));
    waiting.push(own);
    return { result, cancel: () => void (own.cancelled = true) };
  });
  return { store, waiting };
}

const answer = (missing: string): FindingsOutcome => ({ ok: false, missing });
const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

describe('the findings on screen', () => {
  it('are computed once for a plan, and not again for what does not bear on them', () => {
    const { store, waiting } = setUp();
    const plan = drawnPlan();
    store.getState().ask(plan);
    store.getState().ask(plan);
    store.getState().ask(run(plan, editNotes, { notes: 'watered late' }));
    expect(waiting).toHaveLength(1);
    store.getState().ask(run(plan, renameLevel, { factorId: 'f2', levelId: 'v3', name: 'wood' }));
    expect(waiting).toHaveLength(2);
  });

  it('are those of the last question, whichever answer comes first', async () => {
    const { store, waiting } = setUp();
    const plan = drawnPlan();
    store.getState().ask(plan);
    store.getState().choose({ measurementId: 'm2', index: 'gain' });
    store.getState().ask(plan);
    expect(waiting.map(({ cancelled }) => cancelled)).toEqual([true, false]);
    waiting[1]?.done(answer('second'));
    await settle();
    waiting[0]?.done(answer('first'));
    await settle();
    expect(store.getState().outcome).toEqual(answer('second'));
    expect(store.getState().running).toBe(false);
  });

  it('are current only for the plan and the choice that they were computed from', async () => {
    const { store, waiting } = setUp();
    const plan = drawnPlan();
    const current = (of: typeof plan) => isCurrent(store.getState(), of);
    expect(current(plan)).toBe(false);
    store.getState().ask(plan);
    expect(current(plan)).toBe(false);
    waiting[0]?.done(answer('first'));
    await settle();
    expect(current(plan)).toBe(true);
    expect(current(run(plan, editNotes, { notes: 'watered late' }))).toBe(true);

    const entries = [{ potId: 't1:1:1', value: 12 }];
    const changed = run(plan, enterValues, { measurementId: 'm2', entries });
    // Whether anybody has asked for the new ones yet or not.
    expect(current(changed)).toBe(false);
    store.getState().ask(changed);
    expect([current(plan), current(changed)]).toEqual([true, false]);
    waiting[1]?.done(answer('second'));
    await settle();
    expect([current(plan), current(changed)]).toEqual([false, true]);
    store.getState().choose({ measurementId: 'm2', index: 'gain' });
    expect(current(changed)).toBe(false);
  });

  it('show how far they are, can be stopped, and are computed again only when asked', async () => {
    const { store, waiting } = setUp();
    const plan = drawnPlan();
    store.getState().ask(plan);
    waiting[0]?.tell(2, 8);
    expect(store.getState().progress).toBe(0.25);
    store.getState().stop();
    expect(waiting[0]?.cancelled).toBe(true);
    expect(store.getState()).toMatchObject({ running: false, stopped: true, progress: null });
    // What was under way tells nothing any more, whatever still comes in.
    waiting[0]?.tell(5, 8);
    expect(store.getState().progress).toBe(null);
    store.getState().ask(plan);
    expect(waiting).toHaveLength(1);
    store.getState().askAgain(plan);
    expect(store.getState()).toMatchObject({ running: true, stopped: false });
    waiting[1]?.done(answer('second'));
    await settle();
    expect(store.getState()).toMatchObject({ outcome: answer('second'), running: false });
    // An edit asks anew by itself, also after a stop.
    const entries = [{ potId: 't1:1:1', value: 12 }];
    store.getState().ask(run(plan, enterValues, { measurementId: 'm2', entries }));
    expect(store.getState().running).toBe(true);
  });

  it('of another plan that was opened are asked for anew, even where it is alike', async () => {
    const { store, waiting } = setUp();
    const plan = drawnPlan();
    store.getState().ask(plan, 'first');
    waiting[0]?.done(answer('first'));
    await settle();
    store.getState().ask(plan, 'second');
    expect(waiting).toHaveLength(2);
    expect(store.getState().answered?.copyId).toBe('first');
  });

  it('turn a refusal into its sentence', async () => {
    const { store, waiting } = setUp();
    store.getState().ask(drawnPlan());
    expect(store.getState().running).toBe(true);
    waiting[0]?.fail(new Refusal('weight, row 3: found nothing'));
    await settle();
    expect(store.getState().outcome).toEqual(answer('weight, row 3: found nothing'));
  });

  it('say what is wanted where there is no trial', () => {
    const { store, waiting } = setUp();
    store.getState().ask({ ...drawnPlan(), trial: null, layout: null });
    expect(waiting).toHaveLength(0);
    expect(store.getState().outcome).toEqual(answer('No trial is planned yet.'));
  });
});
