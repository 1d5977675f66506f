import { describe, expect, it } from 'vitest';
import { renamePlan } from '../../renderer/document/commands';
import { readPlan } from '../../renderer/document/open';
import { createPlanStore, isUnsaved } from '../../renderer/store/planStore';
import { keepRecovery } from '../../renderer/store/recovery';
import { samplePlan } from '../builders/samplePlan';
import { twoRuns } from '../builders/twoRuns';

const ref = { key: '/home/me/trial.plan', name: 'trial.plan', seen: null };

/** A clock and hands that are moved by the test, and a host that notes what is asked of it. */
function setUp(keep: (text: string) => Promise<void> = () => Promise.resolve()) {
  let now = 0;
  let due: { at: number; run: () => void } | null = null;
  let moveHands: (() => void) | null = null;
  let askToKeep: (() => Promise<void>) | null = null;
  const said: string[] = [];
  const ids = new Set<string>();
  const forgotten: string[] = [];
  const failures: unknown[] = [];
  const store = createPlanStore();
  store.getState().open(samplePlan(), ref);
  const title = (text: string) => {
    const read = readPlan(text);
    return read.ok ? read.plan.title : 'broken';
  };
  const end = keepRecovery(
    store,
    {
      keepForRecovery: async (copy, text, fileRef) => {
        ids.add(copy);
        await keep(text);
        said.push(`keep ${title(text)} of ${fileRef?.name ?? 'no file'}`);
      },
      forgetRecovery: (copy) => {
        forgotten.push(copy);
        said.push('forget');
        return Promise.resolve();
      },
      setUnsaved: (unsaved) => {
        said.push(unsaved ? 'unsaved' : 'saved');
      },
      onKeepNow: (keepNow) => {
        askToKeep = keepNow;
        return () => undefined;
      },
    },
    (reason) => failures.push(reason),
    {
      set: (run, ms) => {
        due = { at: now + ms, run };
        return due;
      },
      clear: (timer) => {
        if (due === timer) due = null;
      },
      now: () => now,
      onHands: (hear) => {
        moveHands = hear;
        return () => {
          moveHands = null;
        };
      },
    },
  );
  const pass = async (ms: number) => {
    const end = now + ms;
    for (let timer = due; timer !== null && timer.at <= end; timer = due) {
      due = null;
      now = timer.at;
      timer.run();
    }
    now = end;
    await new Promise((resolve) => setImmediate(resolve));
  };
  /** Types for a while, a key every 200 ms. */
  const type = async (ms: number) => {
    for (let passed = 0; passed < ms; passed += 200) {
      moveHands?.();
      await pass(Math.min(200, ms - passed));
    }
  };
  const heard = () => moveHands !== null;
  const edit = (text: string) => store.getState().dispatch(renamePlan, { title: text });
  const keepNow = async () => askToKeep?.();
  return { store, keepNow, said, ids, forgotten, failures, end, pass, type, heard, edit };
}

describe('keeping unsaved work', () => {
  it('writes a copy in the first pause after an edit', async () => {
    const { said, pass, type, edit } = setUp();
    edit('a');
    await type(600);
    edit('b');
    await pass(399);
    expect(said).toEqual(['saved', 'unsaved']);
    await pass(1);
    expect(said.slice(2)).toEqual(['keep b of trial.plan']);
    edit('c');
    await pass(400);
    expect(said.slice(3)).toEqual(['keep c of trial.plan']);
    await type(5000);
    expect(said).toHaveLength(4);
  });

  it('writes a copy at once where the window may be about to go', async () => {
    const { said, keepNow, pass, type, edit } = setUp();
    edit('a');
    await type(200);
    await keepNow();
    expect(said.slice(2)).toEqual(['keep a of trial.plan']);
    await pass(5000);
    expect(said).toHaveLength(3);
  });

  it('writes a copy 1.5 s after the first edit not yet kept, also where nobody pauses', async () => {
    const { said, type, pass, edit } = setUp();
    edit('a');
    await type(1400);
    edit('b');
    await type(99);
    expect(said).toEqual(['saved', 'unsaved']);
    await pass(1);
    expect(said.slice(2)).toEqual(['keep b of trial.plan']);
    edit('c');
    await type(1500);
    edit('d');
    await type(1499);
    expect(said.slice(3)).toEqual(['keep c of trial.plan']);
    await pass(1);
    expect(said.slice(4)).toEqual(['keep d of trial.plan']);
  });

  it('forgets the copy once the plan is saved, undone or closed', async () => {
    const { store, said, pass, edit } = setUp();
    edit('a');
    await pass(1000);
    const plan = store.getState().plan;
    if (!plan) throw new Error('a plan is open');
    store.getState().markSaved(ref, plan);
    await pass(0);
    edit('b');
    store.getState().undo();
    await pass(2000);
    edit('c');
    store.getState().close();
    await pass(2000);
    expect(said.slice(1)).toEqual([
      'unsaved',
      'keep a of trial.plan',
      'saved',
      'forget',
      'unsaved',
      'saved',
      'forget',
      'unsaved',
      'saved',
      'forget',
    ]);
  });

  it('keeps each plan under a name of its own, and forgets the one that was left', async () => {
    const { store, ids, forgotten, pass, edit } = setUp();
    edit('a');
    await pass(1000);
    edit('b');
    await pass(1000);
    const [first = ''] = ids;
    expect(ids.size).toBe(1);
    // A recovered plan: unsaved from the start.
    store.getState().open(samplePlan(), ref, false);
    await pass(1000);
    expect(forgotten).toEqual([first]);
    expect(ids.size).toBe(2);
    expect(ids.has(store.getState().copyId)).toBe(true);
  });

  it('keeps what was edited while an older state was being saved', async () => {
    const { store, said, forgotten, pass, edit } = setUp();
    edit('saved');
    const plan = store.getState().plan;
    edit('later');
    await pass(1000);
    if (!plan) throw new Error('a plan is open');
    store.getState().markSaved({ ...ref, name: 'other.plan' }, plan);
    await pass(1000);
    expect(forgotten).toEqual([]);
    expect(said.at(-1)).toBe('keep later of other.plan');
  });

  it('never lets a slow old copy overwrite a newer one', async () => {
    const waiting: (() => void)[] = [];
    const { said, pass, edit } = setUp(
      () =>
        new Promise((resolve) => {
          waiting.push(resolve);
        }),
    );
    edit('a');
    await pass(1000);
    edit('b');
    await pass(1000);
    expect(waiting).toHaveLength(1);
    waiting[0]?.();
    await pass(0);
    expect(waiting).toHaveLength(2);
    waiting[1]?.();
    await pass(0);
    expect(said.slice(2)).toEqual(['keep a of trial.plan', 'keep b of trial.plan']);
  });

  it('says when a copy could not be kept, and tries again at the next edit', async () => {
    let broken = true;
    const { said, failures, pass, edit } = setUp(() =>
      broken ? Promise.reject(new Error('disk full')) : Promise.resolve(),
    );
    edit('a');
    await pass(1000);
    expect(failures).toEqual([new Error('disk full')]);
    broken = false;
    edit('b');
    await pass(1000);
    expect(said.at(-1)).toBe('keep b of trial.plan');
  });

  it('stops when told to', async () => {
    const { said, end, pass, heard, edit } = setUp();
    edit('a');
    expect(heard()).toBe(true);
    end();
    expect(heard()).toBe(false);
    edit('b');
    await pass(2000);
    expect(said).toEqual(['saved', 'unsaved']);
  });
});

it('of several runs looks at each without an unsaved change or a copy, and undoes in the run it was in', async () => {
  const { store, said, pass } = setUp();
  const second = twoRuns();
  store.getState().open(second, ref);
  said.length = 0;
  store.getState().seeRun('run0');
  await pass(3000);
  expect(said).toEqual([]);
  store.getState().dispatch(renamePlan, { title: 'Renamed' });
  store.getState().seeRun(second.runId);
  await pass(3000);
  expect(said).toEqual(['unsaved', 'keep Renamed of trial.plan']);
  store.getState().undo();
  expect(store.getState().plan?.runId).toBe('run0');
  expect(isUnsaved(store.getState())).toBe(false);
  store.getState().redo();
  const { plan } = store.getState();
  if (plan) store.getState().markSaved(ref, plan);
  store.getState().seeRun(second.runId);
  expect(isUnsaved(store.getState())).toBe(false);
});
