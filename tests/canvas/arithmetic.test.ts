import { describe, expect, it } from 'vitest';
import {
  boxAbout,
  draggedBox,
  gridFittedToTray,
  gridInBox,
} from '../../renderer/canvas/gestures/addArithmetic';
import { movableRefs, moveBy, moveStart } from '../../renderer/canvas/gestures/moveArithmetic';
import { handleAt, handlesOf, resized } from '../../renderer/canvas/gestures/resizeArithmetic';
import { sceneOf } from '../../renderer/canvas/plane/scene';
import { lampOf, planOf, shelfOf, trayOf } from './support/plans';

const plan = planOf([
  shelfOf('s1', 1, {
    trays: [trayOf('t2', 'A'), trayOf('t3', 'B', { xMm: 600 })],
    lamps: [lampOf('l4')],
  }),
  shelfOf('s5', 2),
]);
const above = sceneOf(plan.rack, 'above', 's1');
const front = sceneOf(plan.rack, 'front', null);
const free = { shift: false, ctrl: true, alt: false };
const snapping = { shift: false, ctrl: false, alt: false };

function started(scene: typeof above, refs: string[]) {
  const start = moveStart(scene, refs);
  if (!start) throw new Error('nothing to move');
  return start;
}

describe('move', () => {
  it('moves in whole millimetres with snapping off', () => {
    const start = started(above, ['tray:t2']);
    const by = moveBy(start, { across: 0, up: 0 }, { across: 33.4, up: 71.6 }, free, 8, 'metric');
    expect([by.byAcross, by.byUp]).toEqual([33, 72]);
  });

  it('locks to the longer axis with shift', () => {
    const start = started(above, ['tray:t2']);
    const keys = { ...free, shift: true };
    const by = moveBy(start, { across: 0, up: 0 }, { across: 33, up: 71 }, keys, 8, 'metric');
    expect([by.byAcross, by.byUp]).toEqual([0, 71]);
  });

  it('snaps to a neighbouring tray', () => {
    const start = started(above, ['tray:t2']);
    const by = moveBy(start, { across: 0, up: 0 }, { across: 96, up: 3 }, snapping, 8, 'metric');
    expect([by.byAcross, by.byUp]).toEqual([100, 0]);
  });

  it('keeps trays on their board and lamps over it, seen from the front', () => {
    const tray = moveBy(
      started(front, ['tray:t2']),
      { across: 0, up: 0 },
      { across: 30, up: 200 },
      free,
      8,
      'metric',
    );
    expect([tray.byAcross, tray.byUp]).toEqual([30, 0]);
    const lamp = moveBy(
      started(front, ['lamp:l4']),
      { across: 0, up: 0 },
      { across: 0, up: -900 },
      free,
      8,
      'metric',
    );
    expect(lamp.byUp).toBe(-400);
  });

  it('lifts a shelf, and never through the floor', () => {
    const start = started(front, ['shelf:s1']);
    const by = moveBy(start, { across: 0, up: 0 }, { across: 50, up: -900 }, free, 8, 'metric');
    expect([by.byAcross, by.byUp]).toEqual([0, -300]);
    expect(moveStart(above, ['shelf:s1'])).toBeNull();
  });

  it('takes only lamps where only lamps may be moved, and only shelves with shelves', () => {
    const all = ['shelf:s1', 'tray:t2', 'lamp:l4', 'pot:t2:1:1'];
    expect(movableRefs(front, all, true)).toEqual(['lamp:l4']);
    expect(movableRefs(front, all, false)).toEqual(['shelf:s1']);
    expect(movableRefs(above, all.slice(1), false)).toEqual(['tray:t2', 'lamp:l4']);
  });
});

describe('resize', () => {
  const box = { left: 0, right: 500, bottom: 0, top: 400 };
  const handle = (name: string) => {
    const found = handlesOf('tray', 'above').find((h) => h.name === name);
    if (!found) throw new Error(`no handle ${name}`);
    return found;
  };
  const from = { across: 0, up: 0 };

  it('moves the dragged sides only', () => {
    const at = { across: 40.3, up: 25 };
    expect(resized(box, handle('right'), from, at, free, [], 8, 'metric').box).toEqual({
      ...box,
      right: 540,
    });
    expect(resized(box, handle('bottom-left'), from, at, free, [], 8, 'metric').box).toEqual({
      left: 40,
      right: 500,
      bottom: 25,
      top: 400,
    });
  });

  it('never turns a box inside out', () => {
    const at = { across: -900, up: 0 };
    expect(resized(box, handle('right'), from, at, free, [], 8, 'metric').box.right).toBe(20);
  });

  it('snaps a side to a neighbour’s side', () => {
    const others = [{ left: 600, right: 1100, bottom: 0, top: 400 }];
    const at = { across: 96, up: 0 };
    const next = resized(box, handle('right'), from, at, snapping, others, 8, 'metric');
    expect(next.box.right).toBe(600);
  });

  it('gives a shelf no handle on its front left corner, where its axes begin', () => {
    expect(handlesOf('shelf', 'above').map((h) => h.name)).toEqual(['right', 'top', 'top-right']);
    expect(handlesOf('lamp', 'above')).toEqual([]);
  });

  it('finds a handle by pixel, corners first', () => {
    const view = { scale: 0.5, originX: 100, originY: 400 };
    const handles = handlesOf('tray', 'above');
    expect(handleAt(handles, box, view, { x: 352, y: 198 })?.name).toBe('top-right');
    expect(handleAt(handles, box, view, { x: 225, y: 402 })?.name).toBe('bottom');
    expect(handleAt(handles, box, view, { x: 225, y: 300 })).toBeNull();
  });
});

describe('add', () => {
  const shelf = { left: 0, right: 1200, bottom: 0, top: 600 };

  it('cuts a dragged frame to the shelf and takes a short drag for a click', () => {
    expect(
      draggedBox({ across: -50, up: 100 }, { across: 400.4, up: 900 }, shelf, 'metric'),
    ).toEqual({ left: 0, right: 400, bottom: 100, top: 600 });
    expect(draggedBox({ across: 5, up: 5 }, { across: 9, up: 8 }, shelf, 'metric')).toBeNull();
  });

  it('sets a thing about the click, pushed inside the shelf', () => {
    expect(boxAbout({ across: 1190, up: 300 }, 500, 400, shelf, 'metric')).toEqual({
      left: 700,
      right: 1200,
      bottom: 100,
      top: 500,
    });
  });

  it('fills a part of a tray with pots that stay inside it', () => {
    const pots = { potDiameterMm: 90, pitchXMm: 100, pitchYMm: 100 };
    const grid = gridInBox({ left: 100, right: 400, bottom: 50, top: 250 }, pots);
    // Width 300: 1 + floor((300 − 90) / 100) = 3 columns; depth 200: 2 rows.
    expect([grid.columns, grid.rows]).toEqual([3, 2]);
    expect([grid.firstXMm, grid.firstYMm]).toEqual([150, 100]);
    const whole = gridFittedToTray({ widthMm: 500, depthMm: 400 }, pots);
    expect([whole.columns, whole.rows]).toEqual([5, 4]);
  });
});
