import { describe, expect, it } from 'vitest';
import {
  addTray,
  enterValues,
  moveItems,
  removeItems,
  renamePlan,
} from '../../renderer/document/commands';
import {
  createPlanStore,
  isUnsaved,
  redoLabel,
  shownPlan,
  undoLabel,
} from '../../renderer/store/planStore';
import { drawnPlan, samplePlan } from '../builders/samplePlan';

const ref = { key: '/home/me/trial.plan', name: 'trial.plan', seen: null };

function opened(plan = samplePlan()) {
  const store = createPlanStore();
  store.getState().open(plan, ref);
  return store;
}

describe('the plan store', () => {
  it('refuses to edit where nothing is open', () => {
    const store = createPlanStore();
    expect(store.getState().dispatch(renamePlan, { title: 'x' })).toEqual({
      ok: false,
      reason: 'No plan is open.',
    });
    expect(isUnsaved(store.getState())).toBe(false);
  });

  it('carries a command out as one step and says what it added', () => {
    const store = opened();
    const before = store.getState().plan;
    expect(store.getState().dispatch(addTray, { shelfId: 's1' })).toEqual({
      ok: true,
      added: ['tray:t10'],
    });
    expect(undoLabel(store.getState())).toBe('Add tray to shelf 1');
    store.getState().undo();
    expect(store.getState().plan).toBe(before);
    expect(redoLabel(store.getState())).toBe('Add tray to shelf 1');
    store.getState().redo();
    expect(store.getState().plan?.rack.shelves[0]?.trays).toHaveLength(2);
  });

  it('remembers why the last command was refused until one is carried out', () => {
    const store = opened(drawnPlan('2026-03-02'));
    const plan = store.getState().plan;
    const refused = store.getState().dispatch(removeItems, { items: ['tray:t1'] });
    expect(refused.ok).toBe(false);
    expect(store.getState()).toMatchObject({
      lastRefusal: expect.stringMatching(/^Pot 1A-A1 is planted/),
      wayOn: 'unlock-layout',
      refusals: 1,
    });
    expect(store.getState().plan).toBe(plan);
    store.getState().dispatch(renamePlan, { title: 'x' });
    expect(store.getState().lastRefusal).toBeNull();
  });

  it('makes no step of a command that changes nothing', () => {
    const store = opened();
    const clear = { measurementId: 'm1', entries: [{ potId: 't1:1:1', value: null }] };
    expect(store.getState().dispatch(enterValues, clear).ok).toBe(true);
    expect(store.getState().history.past).toEqual([]);
  });

  it('merges typing in one field', () => {
    const store = opened();
    for (const title of ['B', 'Ba', 'Bar']) {
      store.getState().dispatch(renamePlan, { title }, { mergeKey: 'title' });
    }
    expect(store.getState().history.past).toHaveLength(1);
    store.getState().undo();
    expect(store.getState().plan?.title).toBe('Bark or clay');
  });

  it('is unsaved from the first edit to the save, and saved again after an undo', () => {
    const store = opened();
    expect(isUnsaved(store.getState())).toBe(false);
    store.getState().dispatch(renamePlan, { title: 'x' });
    expect(isUnsaved(store.getState())).toBe(true);
    store.getState().undo();
    expect(isUnsaved(store.getState())).toBe(false);
    store.getState().redo();
    const written = store.getState().plan;
    if (!written) throw new Error('a plan is open');
    store.getState().dispatch(renamePlan, { title: 'typed while saving' });
    store.getState().markSaved(ref, written);
    expect(isUnsaved(store.getState())).toBe(true);
  });

  it('takes a new or recovered plan for unsaved', () => {
    const store = createPlanStore();
    store.getState().open(samplePlan(), null);
    expect(isUnsaved(store.getState())).toBe(true);
    store.getState().open(samplePlan(), ref, false);
    expect(isUnsaved(store.getState())).toBe(true);
    store.getState().close();
    expect(store.getState().plan).toBeNull();
  });
});

describe('a drag', () => {
  const move = (dxMm: number) => ({ items: ['tray:t1'], dxMm, dyMm: 0 });
  const xOf = (plan: ReturnType<typeof shownPlan>) => plan?.rack.shelves[0]?.trays[0]?.xMm;

  it('shows every place from where it began and becomes one step', () => {
    const store = opened();
    const state = store.getState;
    for (const dx of [1, 7, 30]) state().previewCommand(moveItems, move(dx));
    expect(xOf(shownPlan(state()))).toBe(55);
    expect(xOf(state().plan)).toBe(25);
    expect(isUnsaved(state())).toBe(false);
    state().commitPreview();
    expect(xOf(state().plan)).toBe(55);
    expect(state().history.past.map(({ label }) => label)).toEqual(['Move tray 1A']);
    state().undo();
    expect(xOf(state().plan)).toBe(25);
  });

  it('keeps the last good place where a further one is refused', () => {
    const store = opened();
    store.getState().previewCommand(moveItems, move(10));
    const refused = store.getState().previewCommand(moveItems, move(1e9));
    expect(refused.ok).toBe(false);
    expect(xOf(shownPlan(store.getState()))).toBe(35);
    expect(store.getState().lastRefusal).toMatch(/^Tray 1A, x \(mm\): found 1000000025/);
  });

  it('leaves no trace when cancelled or when it ends where it began', () => {
    const store = opened();
    store.getState().previewCommand(moveItems, move(10));
    store.getState().cancelPreview();
    expect(shownPlan(store.getState())).toBe(store.getState().plan);
    store.getState().previewCommand(moveItems, move(10));
    store.getState().previewCommand(moveItems, move(0));
    store.getState().commitPreview();
    expect(store.getState().history.past).toEqual([]);
    expect(store.getState().preview).toBeNull();
  });
});
