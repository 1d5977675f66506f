import { describe, expect, it } from 'vitest';
import type { RackLook } from '../../renderer/canvas/look';
import { sceneOf } from '../../renderer/canvas/plane/scene';
import type { KeyPress } from '../../renderer/canvas/keys/keyPress';
import { pressKey } from '../../renderer/canvas/keys/keys';
import { shelfToShow, tools } from '../../renderer/canvas/canvasPort';
import { moveThings } from '../../renderer/canvas/boundCommands';
import { rackOf } from './support/context';
import { lampOf, planOf, shelfOf, trayOf } from './support/plans';

const editing: RackLook = { ringed: new Map(), editable: true };
const reading: RackLook = { ringed: new Map(), editable: false };

function keyboard(look: RackLook = editing) {
  const rack = rackOf(
    planOf([
      shelfOf('s1', 1, { trays: [trayOf('t2', 'A')], lamps: [lampOf('l4')] }),
      shelfOf('s5', 2),
    ]),
  );
  let inspected = 0;
  const press = (key: string, held: Partial<Omit<KeyPress, 'key'>> = {}) => {
    const plan = rack.plan();
    const { view, selection, tool, shelfId } = rack.stores.session.getState();
    const shown = shelfToShow(plan, shelfId);
    return pressKey(
      {
        room: {
          ...rack.acts,
          plan,
          shown: plan,
          view,
          shelfId: shown,
          selection,
          tool: tools.find((t) => t === tool) ?? 'select',
        },
        scene: sceneOf(plan.rack, view, shown),
        look,
        view: null,
        keyed: { press: () => false, take: rack.acts.takeTool },
        cancelGesture: () => false,
        holdSpace: () => undefined,
        goUnder: () => false,
        inspect: () => {
          inspected += 1;
        },
      },
      { key, ctrlKey: false, metaKey: false, altKey: false, shiftKey: false, ...held },
    );
  };
  return { rack, press, inspected: () => inspected };
}

describe('keys', () => {
  it('write an incident down about what is selected, also where nothing can be moved', () => {
    for (const look of [editing, reading]) {
      const { rack, press } = keyboard(look);
      const logging = () => rack.stores.session.getState().logging;
      expect(press('i')).toBe(false);
      expect(logging()).toBe(false);
      rack.acts.select(['lamp:l4', 'tray:t2']);
      expect(press('i')).toBe(true);
      expect(logging()).toBe(true);
    }
  });

  it('goes through everything with Tab and lets Tab leave at the end', () => {
    const { rack, press } = keyboard();
    const seen: string[] = [];
    while (press('Tab')) seen.push(rack.selection()[0] ?? '');
    expect(seen).toEqual(['shelf:s1', 'tray:t2', 'lamp:l4', 'shelf:s5']);
  });

  it('nudges by 1 mm, by 10 mm with shift, a run of nudges being one step', () => {
    const { rack, press } = keyboard();
    rack.acts.select(['tray:t2']);
    rack.acts.setView('above');
    press('ArrowRight');
    press('ArrowRight');
    press('ArrowUp', { shiftKey: true });
    expect(rack.plan().rack.shelves[0]?.trays[0]).toMatchObject({ xMm: 2, yMm: 10 });
    expect(rack.steps()).toHaveLength(1);
  });

  it('raises a lamp from the front', () => {
    const { rack, press } = keyboard();
    rack.acts.select(['lamp:l4']);
    press('ArrowUp', { shiftKey: true });
    expect(rack.plan().rack.shelves[0]?.lamps[0]).toMatchObject({ zMm: 410, yMm: 300 });
  });

  it('duplicates and removes', () => {
    const { rack, press } = keyboard();
    rack.acts.select(['tray:t2']);
    press('d', { ctrlKey: true });
    expect(rack.selection()).toEqual(['tray:t100']);
    press('Delete');
    expect(rack.plan().rack.shelves[0]?.trays.map((t) => t.id)).toEqual(['t2']);
    expect(rack.selection()).toEqual([]);
  });

  it('copies to the other shelves, and lines up and spaces with Alt and arrows', () => {
    const { rack, press } = keyboard();
    rack.acts.setView('all');
    expect(press('ArrowLeft', { altKey: true })).toBe(false);
    rack.acts.select(['tray:t2']);
    press('D', { ctrlKey: true, shiftKey: true });
    expect(rack.selection()).toEqual(['tray:t100']);
    expect(rack.plan().rack.shelves[1]?.trays).toMatchObject([{ id: 't100', letter: 'A' }]);
    press('D', { ctrlKey: true, shiftKey: true });
    expect(rack.stores.plan.getState().lastRefusal).toBe('No other shelf has room for tray 2A.');

    rack.acts.act(moveThings('above', ['tray:t100'], 12, 34));
    rack.acts.select(['tray:t2', 'tray:t100']);
    press('ArrowLeft', { altKey: true });
    press('ArrowUp', { altKey: true });
    const places = rack.plan().rack.shelves.map((shelf) => shelf.trays[0]);
    expect(places).toMatchObject([
      { xMm: 0, yMm: 34 },
      { xMm: 0, yMm: 34 },
    ]);
    press('ArrowLeft', { altKey: true, shiftKey: true });
    expect(rack.stores.plan.getState().lastRefusal).toMatch(/three things/);
  });

  it('removes a shelf and a tray of another in one step', () => {
    const { rack, press } = keyboard();
    rack.acts.select(['shelf:s5', 'tray:t2']);
    press('Delete');
    expect(rack.plan().rack.shelves.map((s) => [s.id, s.trays.length])).toEqual([['s1', 0]]);
    expect(rack.steps()).toHaveLength(1);
  });

  it('enters the pots of a tray, extends with shift, makes guards and goes back', () => {
    const { rack, press } = keyboard();
    rack.acts.setView('above');
    rack.acts.select(['tray:t2']);
    press('Enter', { ctrlKey: true });
    press('ArrowRight');
    press('ArrowUp', { shiftKey: true });
    expect(rack.selection()).toEqual(['pot:t2:1:2', 'pot:t2:2:2']);
    press('g');
    expect(rack.plan().rack.shelves[0]?.trays[0]?.grid?.guards).toEqual(['1:2', '2:2']);
    press('Escape');
    expect(rack.selection()).toEqual(['tray:t2']);
    press('Escape');
    expect(rack.selection()).toEqual([]);
    expect(press('Escape')).toBe(false);
  });

  it('takes up a tool by its letter and puts it away with Escape', () => {
    const { rack, press } = keyboard();
    press('t');
    expect(rack.stores.session.getState().tool).toBe('tray');
    press('Escape');
    expect(rack.stores.session.getState().tool).toBe('select');
  });

  it('turns a lamp by a quarter', () => {
    const { rack, press } = keyboard();
    rack.acts.select(['lamp:l4']);
    for (let i = 0; i < 5; i++) press('r');
    expect(rack.plan().rack.shelves[0]?.lamps[0]?.rotationDeg).toBe(90);
  });

  it('opens the figures with Enter, of the selection or of the rack', () => {
    const { rack, press, inspected } = keyboard();
    press('Enter');
    expect(inspected()).toBe(1);
    rack.acts.select(['tray:t2']);
    press('Enter');
    expect(inspected()).toBe(2);
  });

  it('changes nothing where the rack is only read, and arrows go from pot to pot', () => {
    const { rack, press } = keyboard(reading);
    const before = rack.plan();
    rack.acts.setView('above');
    rack.acts.select(['tray:t2']);
    press('ArrowRight');
    expect(rack.selection()).toEqual(['pot:t2:1:1']);
    press('ArrowRight');
    expect(rack.selection()).toEqual(['pot:t2:1:2']);
    for (const key of ['Delete', 'g', 't', 'r']) press(key);
    press('d', { ctrlKey: true });
    expect(rack.plan()).toBe(before);
    press('a', { ctrlKey: true });
    expect(rack.selection()).toHaveLength(20);
  });

  it('opens the shelf of what is selected, and leaves the one that is open', () => {
    const { rack, press } = keyboard();
    const shown = () => rack.stores.session.getState().shelfId;
    rack.acts.select(['shelf:s5']);
    press('2');
    expect(shown()).toBe('s5');
    rack.acts.select(['lamp:l4']);
    press('2');
    expect(shown()).toBe('s5');
    press('1');
    press('2');
    expect(shown()).toBe('s1');
  });

  it('changes the view by 1, 2 and 3', () => {
    const { rack, press } = keyboard();
    for (const [key, view] of [
      ['3', 'all'],
      ['2', 'above'],
      ['1', 'front'],
    ] as const) {
      expect(press(key)).toBe(true);
      expect(rack.stores.session.getState().view).toBe(view);
    }
  });
});
