import { describe, expect, it } from 'vitest';
import { moveThings } from '../../renderer/canvas/boundCommands';
import { startAdd } from '../../renderer/canvas/gestures/add';
import { startMarquee } from '../../renderer/canvas/gestures/marquee';
import { startPan } from '../../renderer/canvas/gestures/pan';
import { startPick } from '../../renderer/canvas/gestures/pick';
import { startPress } from '../../renderer/canvas/gestures/press';
import { startResize } from '../../renderer/canvas/gestures/resize';
import { handlesOf } from '../../renderer/canvas/gestures/resizeArithmetic';
import type { Gesture } from '../../renderer/canvas/gestures/gesture';
import { potsOfRack } from '../../renderer/engine/geometry';
import { at, rackOf } from './support/context';
import { gridOf, lampOf, planOf, shelfOf, trayOf } from './support/plans';

const free = { ctrl: true };
const rules = { editable: true, slackMm: 4, point: null } as const;

const plan = () =>
  planOf([
    shelfOf('s1', 1, {
      trays: [trayOf('t2', 'A', { yMm: 20 }), trayOf('t3', 'B', { xMm: 600, yMm: 20, grid: null })],
      lamps: [lampOf('l4', { yMm: 500 })],
    }),
    shelfOf('s5', 2),
  ]);

function must<T>(gesture: T | null): T {
  if (gesture === null) throw new Error('the gesture did not start');
  return gesture;
}

function drag(gesture: Gesture, ...path: ReturnType<typeof at>[]) {
  for (const pointer of path) gesture.move(pointer);
  const last = path.at(-1);
  if (last) gesture.complete(last);
}

const trayIn = (rack: ReturnType<typeof rackOf>, id: string) => {
  const tray = rack
    .plan()
    .rack.shelves.flatMap((s) => s.trays)
    .find((t) => t.id === id);
  if (!tray) throw new Error(`no tray ${id}`);
  return tray;
};

describe('press', () => {
  it('selects what is clicked, then the pot under a second click', () => {
    const rack = rackOf(plan());
    startPress(rack.context('above', 's1'), at(50, 70), rules).complete(at(50, 70));
    expect(rack.selection()).toEqual(['tray:t2']);
    startPress(rack.context('above', 's1'), at(50, 70), rules).complete(at(50, 70));
    expect(rack.selection()).toEqual(['pot:t2:1:1']);
    expect(rack.steps()).toEqual([]);
  });

  it('goes through what lies one over the other by clicks, with alt at once beneath', () => {
    const rack = rackOf(plan());
    const click = (x: number, y: number, keys = {}) => {
      startPress(rack.context('above', 's1'), at(x, y, keys), rules).complete(at(x, y, keys));
      return rack.selection();
    };
    // Lamp 4 hangs over the fifth row, which tray 2 has not: over its fourth, at 370, it is moved.
    rack.acts.act(moveThings('above', ['lamp:l4'], 0, -130));
    const seen = Array.from({ length: 5 }, () => click(250, 370)[0]);
    expect(seen).toEqual(['lamp:l4', 'tray:t2', 'pot:t2:4:3', 'shelf:s1', 'lamp:l4']);
    // A little aside is the same place; farther off the first thing is taken again.
    expect(click(253, 370)).toEqual(['tray:t2']);
    expect(click(300, 370)).toEqual(['lamp:l4']);
    rack.acts.select([]);
    expect(click(250, 370, { alt: true })).toEqual(['tray:t2']);
    expect(click(300, 375, { alt: true })).toEqual(['shelf:s1']);
    expect(rack.steps()).toHaveLength(1);
  });

  it('keeps what is selected at the second press of a double click', () => {
    const rack = rackOf(plan());
    const press = { ...at(50, 70), second: true };
    startPress(rack.context('above', 's1'), at(50, 70), rules).complete(at(50, 70));
    startPress(rack.context('above', 's1'), press, rules).complete(press);
    expect(rack.selection()).toEqual(['tray:t2']);
  });

  it('drags what was taken out of the stack, else what is nearest to the eye', () => {
    const rack = rackOf(plan());
    rack.acts.act(moveThings('above', ['lamp:l4'], 0, -130));
    const press = (keys = {}) => startPress(rack.context('above', 's1'), at(250, 370, keys), rules);
    rack.acts.select(['tray:t2']);
    drag(press(), at(260, 350, free));
    expect(rack.selection()).toEqual(['lamp:l4']);
    rack.stores.plan.getState().undo();
    press({ alt: true }).complete(at(250, 370, { alt: true }));
    expect(rack.selection()).toEqual(['tray:t2']);
    drag(press(), at(260, 350, free));
    expect(trayIn(rack, 't2')).toMatchObject({ xMm: 10, yMm: 0 });
  });

  it('adds to the selection with shift and takes away again', () => {
    const rack = rackOf(plan());
    const click = (x: number, keys = {}) => {
      startPress(rack.context('above', 's1'), at(x, 30, keys), rules).complete(at(x, 30, keys));
    };
    click(10);
    click(700, { shift: true });
    expect(rack.selection()).toEqual(['tray:t2', 'tray:t3']);
    click(10, { shift: true });
    expect(rack.selection()).toEqual(['tray:t3']);
  });

  it('selects the pot at once where nothing can be moved', () => {
    const rack = rackOf(plan());
    const records = { ...rules, editable: false } as const;
    startPress(rack.context('above', 's1'), at(50, 70), records).complete(at(50, 70));
    expect(rack.selection()).toEqual(['pot:t2:1:1']);
  });

  it('moves what is dragged as one step, shown before it is kept', () => {
    const rack = rackOf(plan());
    const before = rack.plan();
    const gesture = startPress(rack.context('above', 's1'), at(50, 70), rules);
    gesture.move(at(60, 70, free));
    gesture.move(at(83, 101, free));
    expect(rack.plan()).toBe(before);
    expect(rack.preview()?.rack.shelves[0]?.trays[0]?.xMm).toBe(33);
    gesture.complete(at(83, 101, free));
    expect([trayIn(rack, 't2').xMm, trayIn(rack, 't2').yMm]).toEqual([33, 51]);
    expect(rack.steps()).toEqual(['Move tray 1A']);
    expect(rack.preview()).toBeNull();
    rack.stores.plan.getState().undo();
    expect(rack.plan()).toBe(before);
  });

  it('is as if nothing had been when cancelled', () => {
    const rack = rackOf(plan());
    rack.acts.select(['tray:t3']);
    const before = rack.plan();
    const gesture = startPress(rack.context('above', 's1'), at(50, 70), rules);
    gesture.move(at(200, 200));
    gesture.cancel();
    expect(rack.plan()).toBe(before);
    expect(rack.preview()).toBeNull();
    expect(rack.selection()).toEqual(['tray:t3']);
    expect(rack.steps()).toEqual([]);
  });

  it('sets down a copy with alt and selects it', () => {
    const rack = rackOf(plan());
    const keys = { alt: true, ctrl: true };
    drag(
      startPress(rack.context('above', 's1'), at(50, 70), rules),
      at(60, 80, keys),
      at(90, 100, keys),
    );
    expect(trayIn(rack, 't2').xMm).toBe(0);
    const [copy] = rack.selection();
    expect(copy).toBe('tray:t100');
    expect(trayIn(rack, 't100')).toMatchObject({ letter: 'C', xMm: 40, yMm: 50 });
    expect(rack.steps()).toHaveLength(1);
  });

  it('copies from the front to the shelf above, trays onto its board, lamps into its bay', () => {
    const rack = rackOf(plan());
    const [low, high] = rack.plan().rack.shelves;
    if (!low || !high) throw new Error('the rack has two shelves');
    const keys = { alt: true, ctrl: true };
    const board = high.heightMm;
    drag(
      startPress(rack.context('front', null), at(50, low.heightMm + 20), rules),
      at(60, low.heightMm + 60, keys),
      at(80, board + 90, keys),
    );
    const after = rack.plan().rack.shelves[1];
    expect(after?.trays[0]).toMatchObject({ letter: 'A', xMm: 30, yMm: 20 });
    expect(rack.selection()).toEqual([`tray:${after?.trays[0]?.id ?? ''}`]);

    const face = low.heightMm + 400;
    drag(
      startPress(rack.context('front', null), at(500, face), rules),
      at(500, face + 40, keys),
      at(500, board + 300, keys),
    );
    const hung = rack.plan().rack.shelves[1]?.lamps[0];
    expect(hung).toMatchObject({ xMm: 600, yMm: 500, zMm: 300, group: 'shelf 2' });
    expect(rack.plan().rack.shelves[0]?.lamps).toHaveLength(1);

    // Hardly lifted, a tray's copy would lie on the tray: nothing is set down.
    drag(
      startPress(rack.context('front', null), at(50, low.heightMm + 20), rules),
      at(50, low.heightMm + 30, keys),
      at(50, low.heightMm + 35, keys),
    );
    expect(rack.plan().rack.shelves[0]?.trays).toHaveLength(2);
    expect(rack.steps()).toHaveLength(2);
  });

  it('hangs a lamp lower from the front, and leaves its depth', () => {
    const rack = rackOf(plan());
    const from = at(500, 700);
    drag(
      startPress(rack.context('front', null), from, rules),
      at(500, 650, free),
      at(500, 600, free),
    );
    const lamp = rack.plan().rack.shelves[0]?.lamps[0];
    expect(lamp).toMatchObject({ xMm: 600, yMm: 500, zMm: 300 });
  });

  it('moves lamps alone where only lamps may be moved', () => {
    const rack = rackOf(plan());
    const lamps = { ...rules, editable: 'lamps' } as const;
    const context = { ...rack.context('above', 's1'), lampsOnly: true };
    drag(startPress(context, at(50, 70), lamps), at(60, 80, free), at(90, 100, free));
    expect(rack.steps()).toEqual([]);
    drag(startPress(context, at(400, 500), lamps), at(400, 450, free), at(400, 400, free));
    expect(rack.plan().rack.shelves[0]?.lamps[0]?.yMm).toBe(400);
  });

  it('says why a planted layout does not let its pots move, and moves nothing', () => {
    const planted = {
      ...plan(),
      layout: {
        scheme: 'complete-blocks' as const,
        seed: 'a',
        drawnAt: '2026-01-01T00:00:00Z',
        engineVersion: '1',
        drawnFrom: 'x',
        candidates: 1,
        assignments: [{ potId: 't2:1:1', block: '1', levels: {}, plant: null }],
        swaps: [],
        plantedAt: '2026-01-02',
      },
    };
    const rack = rackOf(planted);
    drag(
      startPress(rack.context('above', 's1'), at(50, 70), rules),
      at(60, 80, free),
      at(90, 100, free),
    );
    expect(trayIn(rack, 't2').xMm).toBe(0);
    expect(rack.stores.plan.getState().lastRefusal).toContain('1A-A1');
  });
});

describe('resize', () => {
  it('widens a tray by its right handle as one step', () => {
    const rack = rackOf(plan());
    const context = rack.context('above', 's1');
    const thing = context.scene.byRef.get('tray:t2');
    const handle = handlesOf('tray', 'above').find((h) => h.name === 'right');
    if (!thing || !handle) throw new Error('no tray or handle');
    drag(startResize(context, at(500, 200), thing, handle), at(520, 200), at(596, 200));
    // 600 is the neighbour's side, 4 mm away.
    expect(trayIn(rack, 't2').widthMm).toBe(600);
    expect(rack.steps()).toEqual(['Resize tray 1A']);
  });

  it('raises a tray’s rim from the front', () => {
    const rack = rackOf(plan());
    const context = rack.context('front', null);
    const thing = context.scene.byRef.get('tray:t2');
    const handle = handlesOf('tray', 'front').find((h) => h.name === 'top');
    if (!thing || !handle) throw new Error('no tray or handle');
    drag(startResize(context, at(250, 360), thing, handle), at(250, 370, free), at(250, 385, free));
    expect(trayIn(rack, 't2')).toMatchObject({ rimHeightMm: 85, widthMm: 500, depthMm: 400 });
  });
});

describe('add', () => {
  it('draws a tray on the shelf, cut to it, and puts the tool away', () => {
    const rack = rackOf(plan());
    rack.acts.takeTool('tray');
    drag(
      must(startAdd(rack.context('above', 's1'), at(100, 450, free), 'tray')),
      at(300, 500, free),
      at(400, 900, free),
    );
    expect(trayIn(rack, 't100')).toMatchObject({ xMm: 100, yMm: 450, widthMm: 300, depthMm: 150 });
    expect(rack.selection()).toEqual(['tray:t100']);
    expect(rack.stores.session.getState().tool).toBe('select');
  });

  it('does not start a tray beside the shelf, nor pots beside a tray', () => {
    const rack = rackOf(plan());
    expect(startAdd(rack.context('above', 's1'), at(-50, 50), 'tray')).toBeNull();
    expect(startAdd(rack.context('above', 's1'), at(550, 100), 'pots')).toBeNull();
  });

  it('fills the drawn part of a tray with pots', () => {
    const rack = rackOf(plan());
    drag(
      must(startAdd(rack.context('above', 's1'), at(600, 20, free), 'pots')),
      at(800, 220, free),
      at(900, 220, free),
    );
    // 300 × 200 mm with 90 mm pots every 100 mm, like those drawn last: 3 columns, 2 rows.
    expect(trayIn(rack, 't3').grid).toMatchObject({ columns: 3, rows: 2, potDiameterMm: 90 });
    expect(rack.selection()).toEqual(['tray:t3']);
  });

  it('hangs the first lamp of a plan with a kind of its own, in one step', () => {
    const rack = rackOf({
      ...planOf([shelfOf('s1', 1)]),
      rack: { shelves: [shelfOf('s1', 1)], lampKinds: [] },
    });
    must(startAdd(rack.context('above', 's1'), at(600, 300), 'lamp')).complete(at(600, 300));
    expect(rack.plan().rack.lampKinds).toHaveLength(1);
    expect(rack.plan().rack.shelves[0]?.lamps).toHaveLength(1);
    expect(rack.steps()).toHaveLength(1);
  });

  it('draws a shelf’s bay from the front', () => {
    const rack = rackOf(plan());
    drag(
      must(startAdd(rack.context('front', null), at(0, 1500, free), 'shelf')),
      at(500, 1800, free),
      at(900, 1900, free),
    );
    expect(rack.plan().rack.shelves.at(-1)).toMatchObject({
      number: 3,
      widthMm: 900,
      heightMm: 1500,
      clearanceMm: 400,
    });
  });
});

describe('pick', () => {
  it('brushes guard pots in one step, and every pot once', () => {
    const rack = rackOf(plan());
    const gesture = must(startPick(rack.context('above', 's1'), at(50, 70), 'guard'));
    drag(gesture, at(100, 70), at(150, 70), at(50, 70), at(150, 70));
    expect(trayIn(rack, 't2').grid?.guards).toEqual(['1:1', '1:2']);
    expect(rack.steps()).toHaveLength(1);
  });

  it('fills an empty hole again, and leaves pots alone while it does', () => {
    const holed = planOf([
      shelfOf('s1', 1, { trays: [trayOf('t2', 'A', { grid: gridOf({ empty: ['1:1', '1:2'] }) })] }),
    ]);
    const rack = rackOf(holed);
    const gesture = must(startPick(rack.context('above', 's1'), at(50, 50), 'hole'));
    drag(gesture, at(150, 50), at(250, 50));
    expect(trayIn(rack, 't2').grid?.empty).toEqual([]);
    expect(potsOfRack(rack.plan().rack)).toHaveLength(20);
  });

  it('leaves the plan alone when cancelled', () => {
    const rack = rackOf(plan());
    const before = rack.plan();
    const gesture = must(startPick(rack.context('above', 's1'), at(50, 70), 'hole'));
    gesture.move(at(150, 70));
    gesture.cancel();
    expect(rack.plan()).toBe(before);
    expect(rack.preview()).toBeNull();
  });
});

describe('marquee and pan', () => {
  it('shows what it would select, selects it at the end, and nothing when cancelled', () => {
    const rack = rackOf(plan());
    rack.acts.select(['tray:t3']);
    const gesture = startMarquee(rack.context('above', 's1'), at(-10, -10), 'things');
    gesture.move(at(550, 450));
    expect(rack.shown().framed).toEqual(['tray:t2']);
    expect(rack.selection()).toEqual(['tray:t3']);
    gesture.cancel();
    expect(rack.shown().framed).toBeUndefined();
    expect(rack.selection()).toEqual(['tray:t3']);
    gesture.complete(at(550, 450));
    expect(rack.selection()).toEqual(['tray:t2']);
  });

  it('keeps the former selection with shift', () => {
    const rack = rackOf(plan());
    rack.acts.select(['tray:t3']);
    const gesture = startMarquee(
      rack.context('above', 's1'),
      at(-10, -10, { shift: true }),
      'things',
    );
    gesture.complete(at(550, 450));
    expect(rack.selection()).toEqual(['tray:t3', 'tray:t2']);
  });

  it('pans by as many pixels as the pointer went, and back', () => {
    const rack = rackOf(plan());
    const gesture = startPan(rack.context('above', 's1'), at(0, 0));
    gesture.move(at(30, -40));
    expect(rack.view()).toEqual({ scale: 1, originX: 30, originY: 40 });
    gesture.cancel();
    expect(rack.view()).toEqual({ scale: 1, originX: 0, originY: 0 });
  });
});
