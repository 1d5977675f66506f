import { describe, expect, it } from 'vitest';
import { emptyHistory, recordStep, redoStep, undoStep } from '../../renderer/document/history';
import type { History } from '../../renderer/document/history';
import { emptyPlan } from '../../renderer/document/new';
import type { Plan } from '../../shared-types/plan';

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
    expect(history.past).toEqual([{ label: 'to c', before: a, after: c, mergeKey: 'title' }]);
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
