import { describe, expect, it } from 'vitest';
import {
  describe as describeRef,
  describeSelection,
  stripLine,
  withEnclosing,
  type Told,
} from '../../renderer/canvas/plane/describe';
import {
  firstPotOf,
  focusOrder,
  nextInOrder,
  towards,
} from '../../renderer/canvas/plane/focusOrder';
import { hitAt, holeAt, potAt, refsInFrame } from '../../renderer/canvas/plane/hit';
import { sceneOf } from '../../renderer/canvas/plane/scene';
import type { Notice } from '../../shared-types/notice';
import { gridOf, lampOf, planOf, shelfOf, trayOf } from './support/plans';

const plan = planOf([
  shelfOf('s1', 1, {
    trays: [trayOf('t2', 'A'), trayOf('t3', 'B', { xMm: 600, grid: gridOf({ empty: ['1:1'] }) })],
    lamps: [lampOf('l4', { rotationDeg: 90 })],
  }),
  shelfOf('s5', 2, { trays: [trayOf('t6', 'A')] }),
]);
const above = sceneOf(plan.rack, 'above', 's1');
const front = sceneOf(plan.rack, 'front', null);

describe('scene', () => {
  it('shows one shelf from above and all from the front', () => {
    expect(above.things.map((t) => t.ref)).toEqual(['shelf:s1', 'tray:t2', 'tray:t3', 'lamp:l4']);
    expect(front.things.filter((t) => t.kind === 'shelf').map((t) => t.name)).toEqual([
      'Shelf 1',
      'Shelf 2',
    ]);
    expect(front.bounds).toEqual({ left: 0, right: 1200, bottom: 276, top: 1250 });
  });

  it('shows nothing for a shelf that is not there', () => {
    expect(sceneOf(plan.rack, 'above', 's99').things).toEqual([]);
  });

  it('turns a lamp about the vertical', () => {
    const lamp = above.byRef.get('lamp:l4');
    // 1000 mm long, turned by 90°: it reaches 500 mm to the front and the back of y 300.
    expect(lamp?.box.bottom).toBeCloseTo(-200, 9);
    expect(lamp?.box.top).toBeCloseTo(800, 9);
  });

  it('stands trays and pots on their shelf, seen from the front', () => {
    expect(front.byRef.get('tray:t6')?.box).toEqual({ left: 0, right: 500, bottom: 800, top: 860 });
    expect(front.potByRef.get('pot:t6:1:1')?.centre).toEqual({ across: 50, up: 840 });
  });
});

describe('what lies under the pointer', () => {
  it('finds a pot inside its circle only', () => {
    expect(potAt(above, { across: 50, up: 50 })?.pot.code).toBe('1A-A1');
    expect(potAt(above, { across: 50 + 44, up: 50 })?.pot.code).toBe('1A-A1');
    expect(potAt(above, { across: 100, up: 100 })).toBeNull();
  });

  it('agrees with a search through all pots', () => {
    for (let x = -20; x < 1200; x += 37) {
      for (let y = -20; y < 600; y += 29) {
        const slow = above.pots.filter(
          (p) => Math.hypot(p.pot.xMm - x, p.pot.yMm - y) <= p.pot.diameterMm / 2,
        );
        expect(potAt(above, { across: x, up: y })?.ref).toBe(slow[0]?.ref);
      }
    }
  });

  it('gives the nearest row from the front', () => {
    expect(potAt(front, { across: 50, up: 340 })?.pot.row).toBe(1);
  });

  it('finds a turned lamp along its length', () => {
    expect(hitAt(above, { across: 605, up: 700 }, 4).lamp?.ref).toBe('lamp:l4');
    expect(hitAt(above, { across: 700, up: 300 }, 4).lamp).toBeNull();
    expect(hitAt(above, { across: 20, up: 20 }, 4).tray?.ref).toBe('tray:t2');
    expect(hitAt(above, { across: 20, up: 580 }, 4).shelf?.ref).toBe('shelf:s1');
  });

  it('finds empty holes, which no pot marks', () => {
    expect(potAt(above, { across: 650, up: 50 })).toBeNull();
    expect(holeAt(above, { across: 650, up: 50 })).toBe('t3:1:1');
  });

  it('takes in what a frame encloses', () => {
    const frame = { left: -10, right: 550, bottom: -10, top: 450 };
    expect(refsInFrame(above, frame, 'things', false)).toEqual(['tray:t2']);
    expect(refsInFrame(above, frame, 'pots', false)).toHaveLength(20);
    expect(refsInFrame(above, { ...frame, right: 700 }, 'things', true)).toEqual([
      'tray:t2',
      'tray:t3',
      'lamp:l4',
    ]);
  });
});

describe('keyboard order', () => {
  it('goes shelf by shelf from the lowest, trays before lamps, and ends', () => {
    const order = focusOrder(front, false);
    expect(order).toEqual(['shelf:s1', 'tray:t2', 'tray:t3', 'lamp:l4', 'shelf:s5', 'tray:t6']);
    expect(nextInOrder(order, null, 1)).toBe('shelf:s1');
    expect(nextInOrder(order, 'tray:t6', 1)).toBeNull();
    expect(nextInOrder(order, 'shelf:s1', -1)).toBeNull();
  });

  it('goes from pot to pot by arrows, over an empty hole too', () => {
    expect(firstPotOf(above, 'tray:t2')).toBe('pot:t2:1:1');
    expect(towards(above, 'pot:t2:1:1', 'right')).toBe('pot:t2:1:2');
    expect(towards(above, 'pot:t2:1:1', 'up')).toBe('pot:t2:2:1');
    expect(towards(above, 'pot:t2:1:5', 'right')).toBe('pot:t3:1:2');
    expect(towards(above, 'pot:t2:1:1', 'left')).toBeNull();
  });
});

describe('words', () => {
  it('names sizes in the displayed system', () => {
    expect(describeRef(above, 'tray:t2', 'metric')).toBe('Tray 1A: 500 mm × 400 mm, 20 pots');
    expect(describeRef(above, 'shelf:s1', 'imperial')).toContain('47.24 in wide');
    expect(describeRef(above, 'pot:t2:2:3', 'metric')).toBe(
      "Pot 1A-B3: row B, column 3, 150 mm from the tray's side",
    );
  });

  const notice = (about: string[], text: string, accepted?: string): Notice => ({
    kind: 'too-shallow',
    severity: 'warn',
    stage: 'flood',
    about,
    text,
    remedy: 'Fill.',
    ...(accepted === undefined ? {} : { accepted }),
  });
  const told: Told = {
    scene: above,
    look: {
      potPaint: new Map([['t2:1:1', { fill: '#fff', ink: '#000', words: 'feed low' }]]),
      words: new Map([['tray:t3', '2026-03-19: Pump failed']]),
      ringed: new Map([['tray:t2', 'warn']]),
      editable: false,
    },
    notices: [
      notice(['tray:t2'], 'The water is 4 mm deep.'),
      notice(['tray:t2'], 'It leaks.', 'only a little'),
      { ...notice(['tray:t2'], 'It is green.'), severity: 'note' },
      notice(['tray:t6'], 'It is elsewhere.'),
    ],
    lengths: 'metric',
  };
  const ringed = 'Tray 1A: 500 mm × 400 mm, 20 pots · The water is 4 mm deep.';

  it('tell of a tray why it is ringed and what is logged for it, by pointer and by keys alike', () => {
    expect(stripLine(told, ['tray:t2', 'shelf:s1'])).toBe(ringed);
    expect(stripLine(told, withEnclosing(above, 'tray:t2'))).toBe(ringed);
    expect(describeSelection(told, ['tray:t2'])).toBe(ringed);
    expect(stripLine(told, ['tray:t3'], 'x 700 mm')).toBe(
      'Tray 1B: 500 mm × 400 mm, 19 pots · 2026-03-19: Pump failed · x 700 mm',
    );
    expect(stripLine(told, [], 'x 1 mm')).toBe('x 1 mm');
  });

  it('tell of a pot what the stage says and why its tray is ringed', () => {
    const line = stripLine(told, withEnclosing(above, 'pot:t2:1:1'), 'x 50 mm');
    expect(line).toMatch(/^Pot 1A-A1: .* · feed low · x 50 mm · The water is 4 mm deep\.$/);
    expect(withEnclosing(above, 'lamp:l4')).toEqual(['lamp:l4', 'shelf:s1']);
    expect(withEnclosing(above, 'reading:r1')).toEqual(['reading:r1']);
  });

  it('counts a mixed selection', () => {
    expect(describeSelection(told, ['tray:t2', 'tray:t3', 'lamp:l4'])).toBe(
      '2 trays, 1 lamp selected',
    );
    expect(describeSelection(told, [])).toBe('Nothing selected');
  });
});
