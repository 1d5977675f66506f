import { describe, expect, it } from 'vitest';
import type { AddTool } from '../../renderer/canvas/gestures/add';
import {
  keyedCommand,
  keyedGround,
  nextGround,
  startKeyed,
  stepKeyed,
  turnKeyed,
  type KeyedDraw,
} from '../../renderer/canvas/gestures/keyedDraw';
import {
  pickedHole,
  nextTray,
  startKeyedPick,
  stepKeyedPick,
} from '../../renderer/canvas/gestures/keyedPick';
import type { Direction } from '../../renderer/canvas/plane/focusOrder';
import type { ViewName } from '../../renderer/canvas/plane/things';
import { rackOf } from './support/context';
import { gridOf, lampOf, planOf, shelfOf, trayOf } from './support/plans';

const plan = () =>
  planOf([
    shelfOf('s1', 1, { trays: [trayOf('t2', 'A')], lamps: [lampOf('l4')] }),
    shelfOf('s5', 2, { trays: [trayOf('t6', 'A', { grid: gridOf({ empty: ['1:1'] }) })] }),
  ]);

/** Takes a tool on the shelf of `selected`, presses arrows by 10 mm, and sets the thing down. */
function draw(view: ViewName, tool: AddTool, selected: string, ...presses: string[]) {
  const rack = rackOf(plan());
  const context = rack.context(view, 's1');
  let drawn = startKeyed(context, tool, [selected]);
  if (typeof drawn === 'string') throw new Error(drawn);
  for (const press of presses) {
    const [direction, size] = press.split('+').reverse();
    drawn =
      direction === 'turn'
        ? turnKeyed(context, drawn)
        : stepKeyed(context, drawn, direction as Direction, 10, size !== undefined);
  }
  const done: KeyedDraw = drawn;
  const ground = keyedGround(context, done);
  if (!ground) throw new Error('it is drawn on something');
  rack.acts.act(keyedCommand(ground, done));
  return { drawn: done, shelves: rack.plan().rack.shelves, steps: rack.steps(), rack };
}

describe('a tool in the hand of the keyboard', () => {
  it('places and sizes a tray on the selected shelf, among all and from the front', () => {
    // Tray A is 500 mm wide: the next one stands 25 mm beside it.
    const above = draw('all', 'tray', 'shelf:s5', 'right', 'up', 'up', 'size+left', 'size+down');
    expect(above.shelves[1]?.trays[1]).toMatchObject({
      letter: 'B',
      xMm: 535,
      yMm: 20,
      widthMm: 490,
      depthMm: 390,
      grid: null,
    });
    expect(above.steps).toEqual(['Add tray to shelf 2']);
    const front = draw('front', 'tray', 'tray:t2', 'right', 'up', 'size+right');
    expect(front.shelves[0]?.trays[1]).toMatchObject({ xMm: 535, widthMm: 510, rimHeightMm: 60 });
  });

  it('goes no farther than the shelf', () => {
    const far = draw('all', 'tray', 'shelf:s1', ...Array.from({ length: 40 }, () => 'right'));
    expect(far.shelves[0]?.trays[1]).toMatchObject({ xMm: 700, widthMm: 500 });
  });

  it('hangs a lamp where it is put and turns it, at its height from the front', () => {
    const above = draw('above', 'lamp', 'shelf:s1', 'left', 'turn', 'up');
    expect(above.shelves[0]?.lamps[1]).toMatchObject({ xMm: 590, yMm: 310, rotationDeg: 90 });
    const front = draw('front', 'lamp', 'shelf:s1', 'down', 'down');
    // 30 mm under a clear height of 500 mm, less two steps.
    expect(front.shelves[0]?.lamps[1]).toMatchObject({ xMm: 600, yMm: 300, zMm: 400 });
  });

  it('stands a board across, or lengthwise once turned', () => {
    const across = draw('all', 'board', 'shelf:s1', 'right', 'right', 'right');
    expect(across.shelves[0]?.boards).toMatchObject([{ direction: 'across', atMm: 630 }]);
    const turned = draw('all', 'board', 'shelf:s1', 'turn', 'up', 'up', 'up');
    expect(turned.shelves[0]?.boards).toMatchObject([{ direction: 'lengthwise', atMm: 330 }]);
  });

  it('fills a part of the selected tray with pots', () => {
    const less = Array.from({ length: 22 }, () => 'size+left');
    const { shelves } = draw('all', 'pots', 'pot:t6:1:1', ...less);
    // 280 mm of its 500 mm hold two pots of 90 mm, 100 mm apart, and no third.
    expect(shelves[1]?.trays[0]?.grid).toMatchObject({ columns: 2, rows: 4 });
  });

  it('says what it needs, and goes on to the next ground', () => {
    const bare = rackOf(planOf([]));
    expect(startKeyed(bare.context('front', null), 'tray', [])).toMatch(/shelf first/);
    const rack = rackOf(planOf([shelfOf('s1', 1)]));
    expect(startKeyed(rack.context('front', null), 'pots', [])).toMatch(/tray first/);
    const { drawn, rack: full } = draw('all', 'tray', 'shelf:s1');
    const context = full.context('all', null);
    expect(nextGround(context, drawn, 1).on).toBe('shelf:s5');
    expect(nextGround(context, drawn, -1).on).toBe('shelf:s1');
  });

  it('goes from hole to hole, empty ones too', () => {
    const { scene } = rackOf(plan()).context('all', null);
    const first = startKeyedPick(scene, 'hole', ['tray:t6']);
    if (!first) throw new Error('tray 2A holds pots');
    expect(pickedHole(first)).toBe('t6:1:1');
    const next = stepKeyedPick(scene, stepKeyedPick(scene, first, 'right'), 'up');
    expect(pickedHole(next)).toBe('t6:2:2');
    expect(pickedHole(stepKeyedPick(scene, first, 'left'))).toBe('t6:1:1');
    expect(pickedHole(nextTray(scene, next, -1))).toBe('t2:1:1');
  });
});
