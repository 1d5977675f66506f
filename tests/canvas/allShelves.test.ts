import { describe, expect, it } from 'vitest';
import type { Gesture } from '../../renderer/canvas/gestures/gesture';
import { startAdd } from '../../renderer/canvas/gestures/add';
import { startMarquee } from '../../renderer/canvas/gestures/marquee';
import { startPick } from '../../renderer/canvas/gestures/pick';
import { startPress } from '../../renderer/canvas/gestures/press';
import { startResize } from '../../renderer/canvas/gestures/resize';
import { handlesOf } from '../../renderer/canvas/gestures/resizeArithmetic';
import { describePlace } from '../../renderer/canvas/plane/describe';
import { hitAt, holeAt } from '../../renderer/canvas/plane/hit';
import { pointAt } from '../../renderer/canvas/plane/pointAt';
import { onShelf, sceneOf } from '../../renderer/canvas/plane/scene';
import { at, rackOf } from './support/context';
import { lampOf, planOf, shelfOf, trayOf } from './support/plans';

const free = { ctrl: true };
const rules = { editable: true, slackMm: 4, point: null } as const;

// Two shelves of 1200 × 600 mm; the upper one is listed first, as a person may have drawn it.
const plan = () =>
  planOf([
    shelfOf('s5', 2, { trays: [trayOf('t6', 'A')], lamps: [lampOf('l7')] }),
    shelfOf('s1', 1, { trays: [trayOf('t2', 'A')], lamps: [lampOf('l4')] }),
  ]);
const scene = sceneOf(plan().rack, 'all', null);
const upper = scene.byRef.get('shelf:s5')?.origin ?? { across: NaN, up: NaN };

function must<T>(value: T | null | undefined): T {
  if (value === null || value === undefined) throw new Error('the value is missing');
  return value;
}

function drag(gesture: Gesture, ...path: ReturnType<typeof at>[]) {
  for (const pointer of path) gesture.move(pointer);
  gesture.complete(must(path.at(-1)));
}

const shelfIn = (rack: ReturnType<typeof rackOf>, id: string) =>
  must(rack.plan().rack.shelves.find((s) => s.id === id));

describe('all shelves from above', () => {
  it('stacks them as they stand, clear of each other, with everything on them', () => {
    expect(scene.byRef.get('shelf:s1')?.origin).toEqual({ across: 0, up: 0 });
    expect(upper.up).toBeGreaterThan(600);
    expect(Number.isInteger(upper.up)).toBe(true);
    expect(scene.bounds).toMatchObject({ left: 0, right: 1200, top: upper.up + 600 });
    expect(scene.pots).toHaveLength(40);
    expect(scene.potByRef.get('pot:t6:1:1')?.centre).toEqual({ across: 50, up: upper.up + 50 });
  });

  it('looks on each shelf exactly as one shelf from above does', () => {
    for (const id of ['s1', 's5']) {
      const one = sceneOf(plan().rack, 'above', id);
      const origin = must(scene.byRef.get(`shelf:${id}`)).origin;
      for (let x = -30; x < 1230; x += 31) {
        for (let y = 0; y <= 600; y += 23) {
          const there = { across: x + origin.across, up: y + origin.up };
          const [a, b] = [hitAt(one, { across: x, up: y }, 4), hitAt(scene, there, 4)];
          const refs = [a, b].map((h) => [h.pot, h.tray, h.lamp, h.shelf].map((t) => t?.ref));
          expect(refs[1]).toEqual(refs[0]);
          expect(holeAt(scene, there)).toBe(holeAt(one, { across: x, up: y }));
        }
      }
    }
  });

  it('tells a place in the axes of its shelf, and none between two', () => {
    const there = { across: 120, up: upper.up + 30 };
    expect(onShelf(scene, 's5', there)).toEqual({ across: 120, up: 30 });
    expect(describePlace(scene, there, 'metric')).toBe('x 120 mm, y 30 mm');
    expect(describePlace(scene, { across: 120, up: upper.up - 20 }, 'metric')).toBe('');
  });

  it('finds a meter reading where its shelf lies', () => {
    const point = { ref: 'reading:r1', shelfId: 's5', xMm: 200, yMm: 100, text: '210' };
    const view = { scale: 1, originX: 0, originY: 0 };
    expect(pointAt(scene, [point], view, { x: 203, y: -(upper.up + 100) })).toBe('reading:r1');
    expect(pointAt(scene, [point], view, { x: 203, y: -100 })).toBeNull();
  });
});

describe('gestures among all shelves', () => {
  it('drag a lamp over its own shelf, and not over to another', () => {
    const rack = rackOf(plan());
    const lamps = { ...rules, editable: 'lamps' } as const;
    const context = { ...rack.context('all', null), lampsOnly: true };
    const lampY = upper.up + 300;
    drag(
      startPress(context, at(700, lampY), lamps),
      at(710, lampY - 40, free),
      at(720, lampY - 100, free),
    );
    expect(shelfIn(rack, 's5').lamps[0]).toMatchObject({ xMm: 620, yMm: 200 });
    expect(shelfIn(rack, 's1').lamps[0]).toMatchObject({ xMm: 600, yMm: 300 });

    const again = { ...rack.context('all', null), lampsOnly: true };
    const from = at(700, upper.up + 200);
    drag(startPress(again, from, lamps), at(700, 400, free), at(700, 100, free));
    const held = must(shelfIn(rack, 's5').lamps[0]);
    // A strip is drawn 24 mm wide: its middle stays half of that off the shelf's front.
    expect(held.yMm).toBe(12);
  });

  it('move, draw and resize trays in the axes of their shelf', () => {
    const rack = rackOf(plan());
    drag(
      startPress(rack.context('all', null), at(95, upper.up + 95), rules),
      at(120, upper.up + 100, free),
      at(195, upper.up + 125, free),
    );
    expect(shelfIn(rack, 's5').trays[0]).toMatchObject({ xMm: 100, yMm: 30 });

    const drawn = startAdd(rack.context('all', null), at(700, upper.up + 40, free), 'tray');
    drag(must(drawn), at(900, upper.up + 200, free), at(1000, upper.up + 340, free));
    const added = must(shelfIn(rack, 's5').trays[1]);
    expect(added).toMatchObject({ xMm: 700, yMm: 40, widthMm: 300, depthMm: 300 });

    const now = rack.context('all', null);
    const right = must(handlesOf('tray', 'all').find((h) => h.name === 'right'));
    const thing = must(now.scene.byRef.get(`tray:${added.id}`));
    const grip = at(1000, upper.up + 190);
    drag(startResize(now, grip, thing, right), at(1050, upper.up + 190, free));
    expect(shelfIn(rack, 's5').trays[1]).toMatchObject({ xMm: 700, yMm: 40, widthMm: 350 });

    const pots = startAdd(rack.context('all', null), at(710, upper.up + 50, free), 'pots');
    drag(must(pots), at(800, upper.up + 100, free), at(1040, upper.up + 330, free));
    const grid = must(shelfIn(rack, 's5').trays[1]?.grid);
    expect(grid.firstXMm).toBeGreaterThan(10);
    expect(grid.firstYMm).toBeGreaterThan(10);
    expect(grid.firstYMm + (grid.rows - 1) * grid.pitchYMm).toBeLessThan(300);
  });

  it('pick guard pots on the shelf that is clicked', () => {
    const rack = rackOf(plan());
    const click = at(50, upper.up + 50);
    must(startPick(rack.context('all', null), click, 'guard')).complete(click);
    expect(shelfIn(rack, 's5').trays[0]?.grid?.guards).toEqual(['1:1']);
    expect(shelfIn(rack, 's1').trays[0]?.grid?.guards).toEqual([]);
  });

  it('frame pots of several shelves at once', () => {
    const rack = rackOf(plan());
    const frame = startMarquee(rack.context('all', null), at(0, 250), 'pots');
    drag(frame, at(110, upper.up + 110));
    expect([...rack.selection()].sort()).toEqual(['pot:t2:4:1', 'pot:t6:1:1']);
  });
});
