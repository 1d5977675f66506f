import { describe, expect, it, vi } from 'vitest';
import { enterValues } from '../../renderer/document/commands';
import { emptyHistory, recordStep, redoStep, undoStep } from '../../renderer/document/history';
import type { History } from '../../renderer/document/history';
import { emptyPlan } from '../../renderer/document/new';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { drawnPlan } from '../builders/samplePlan';

const [a, b, c, d] = ['a', 'b', 'c', 'd'].map((title) => emptyPlan(title)) as [
  Plan,
  Plan,
  Plan,
  Plan,
];
const step = (before: Plan, after: Plan, mergeKey: string | null = null) => ({
  label: `to ${after.title}`,
  before,
  after,
  mergeKey,
});
const of = (...steps: ReturnType<typeof step>[]): History => steps.reduce(recordStep, emptyHistory);

describe('history', () => {
  it('makes one step of steps in a row with one key', () => {
    const history = of(step(a, b, 'title'), step(b, c, 'title'));
    expect(history.past).toMatchObject([{ label: 'to c', before: a, after: c, mergeKey: 'title' }]);
    expect(undoStep(history)?.plan).toBe(a);
  });

  it('keeps steps apart without a key, with another key and with a step between', () => {
    expect(of(step(a, b), step(b, c)).past).toHaveLength(2);
    expect(of(step(a, b, 'title'), step(b, c, 'notes')).past).toHaveLength(2);
    expect(of(step(a, b, 'title'), step(b, c), step(c, d, 'title')).past).toHaveLength(3);
  });

  it('starts a new step after an undo, and forgets what was undone', () => {
    const undone = undoStep(of(step(a, b, 'title'), step(b, c)));
    if (!undone) throw new Error('one step can be undone');
    expect(undone.label).toBe('to c');
    const history = recordStep(undone.history, step(b, d, 'title'));
    expect(history.past.map(({ label }) => label)).toEqual(['to b', 'to d']);
    expect(redoStep(history)).toBeNull();
  });

  it('has nothing to undo or redo at its ends', () => {
    expect(undoStep(emptyHistory)).toBeNull();
    expect(redoStep(of(step(a, b)))).toBeNull();
  });
});

describe('a long history', () => {
  const typed = (plan: Plan, at: number, value: number | null): Plan =>
    run(plan, enterValues, {
      measurementId: 'm2',
      entries: [{ potId: `t1:1:${1 + (at % 3)}`, value }],
    });
  const states = [drawnPlan('2026-03-02')];
  for (let i = 0; i < 100; i++) {
    const last = states.at(-1) ?? drawnPlan('2026-03-02');
    states.push(i % 7 === 6 ? typed(last, i - 1, null) : typed(last, i, 20 + i));
  }
  const steps = states.slice(1).map((after, i) => step(states[i] ?? after, after));

  it('goes back to its beginning and forth again, whether its plans are at hand or not', () => {
    // Nothing but the history holds a plan: as after a collection of garbage.
    vi.spyOn(WeakRef.prototype, 'deref').mockReturnValue(undefined);
    let history = of(...steps);
    for (let i = steps.length - 1; i >= 0; i--) {
      const undone = undoStep(history);
      expect(undone?.plan).toEqual(states[i]);
      history = undone?.history ?? history;
    }
    expect(undoStep(history)).toBeNull();
    for (const after of states.slice(1)) {
      const redone = redoStep(history);
      expect(redone?.plan).toEqual(after);
      history = redone?.history ?? history;
    }
    vi.restoreAllMocks();
  });

  it('comes back to the very plan that somebody still holds, as the one that was saved', () => {
    let history = of(...steps);
    for (let i = steps.length; i > 40; i--) history = undoStep(history)?.history ?? history;
    expect(undoStep(history)?.plan).toBe(states[39]);
  });

  it('keeps whole plans of its last steps alone', () => {
    const { past } = of(...steps);
    expect(past.filter((one) => 'before' in one)).toHaveLength(30);
    expect(past).toHaveLength(steps.length);
  });
});
