import { describe, expect, it } from 'vitest';
import { createSessionStore } from '../../renderer/store/sessionStore';

describe('the session store', () => {
  it('selects each thing once, adds and takes away', () => {
    const store = createSessionStore();
    store.getState().select(['tray:t1', 'tray:t1', 'lamp:l1']);
    expect(store.getState().selection).toEqual(['tray:t1', 'lamp:l1']);
    store.getState().toggleSelected('tray:t1');
    store.getState().toggleSelected('pot:t1:1:1');
    expect(store.getState().selection).toEqual(['lamp:l1', 'pot:t1:1:1']);
  });

  it('keeps theme and paper over a change of plan, and nothing else', () => {
    const store = createSessionStore({ paper: 'Letter' });
    store.getState().setTheme('dark');
    store.getState().goTo('records');
    store.getState().setView('above');
    store.getState().showShelf('s2');
    store.getState().select(['tray:t1']);
    store.getState().reset();
    expect(store.getState()).toMatchObject({
      stage: 'rack',
      view: 'front',
      shelfId: null,
      selection: [],
      theme: 'dark',
      paper: 'Letter',
    });
  });

  it('opens each stage in the view that serves it, then in the one chosen there', () => {
    const store = createSessionStore();
    const viewOn = (stage: Parameters<ReturnType<typeof store.getState>['goTo']>[0]) => {
      store.getState().goTo(stage);
      return store.getState().view;
    };
    expect(store.getState().view).toBe('front');
    expect(viewOn('layout')).toBe('all');
    store.getState().setView('above');
    expect(viewOn('records')).toBe('all');
    expect(viewOn('rack')).toBe('front');
    expect(viewOn('layout')).toBe('above');
    store.getState().reset();
    expect(viewOn('layout')).toBe('all');
  });

  it('puts the tool away on another stage, and keeps the selection', () => {
    const store = createSessionStore();
    store.getState().takeTool('add-tray');
    store.getState().select(['tray:t1']);
    store.getState().goTo('light');
    expect(store.getState()).toMatchObject({ tool: 'select', selection: ['tray:t1'] });
  });
});
