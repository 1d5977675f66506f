import { describe, expect, it } from 'vitest';
import { createSessionStore } from '../../renderer/store';

describe('choices of a stage', () => {
  it('stay when the stage is left and when another plan is opened', () => {
    const store = createSessionStore();
    store.getState().keep('chart.options', { blinded: true });
    store.getState().goTo('records');
    store.getState().reset();
    expect(store.getState().kept.get('chart.options')).toEqual({ blinded: true });
    expect(store.getState().stage).toBe('rack');
  });
});
