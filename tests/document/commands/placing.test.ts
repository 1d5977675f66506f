import { describe, expect, it } from 'vitest';
import * as commands from '../../../renderer/document/commands';
import { placedOf, placedOn, shelvesWithRoom } from '../../../renderer/document/queries/placing';
import { rectInside, rectsOverlap } from '../../../renderer/engine/geometry';
import { kindOf, lampOf, planOf, shelfOf, trayOf } from '../../builders/rackParts';
import { label, refusal, run } from '../../builders/run';
import type { Plan } from '../../../shared-types/plan';

const strip = kindOf({ lengthMm: 1000, widthMm: 20 });
const tray = (id: string, letter: string, xMm: number, yMm: number) =>
  trayOf({ id, letter, xMm, yMm, widthMm: 280, depthMm: 270, grid: null });

/** Two shelves of 1200 × 600 mm; the first with two trays 20 mm apart and two strips. */
const plan = (): Plan =>
  planOf('Placing', {
    lampKinds: [strip],
    shelves: [
      shelfOf({
        id: 's1',
        number: 1,
        widthMm: 1200,
        depthMm: 600,
        heightMm: 300,
        trays: [tray('t1', 'A', 10, 10), tray('t2', 'B', 310, 10)],
        lamps: [lampOf({ id: 'l1', yMm: 100, zMm: 400 }), lampOf({ id: 'l2', yMm: 500, zMm: 380 })],
      }),
      shelfOf({ id: 's2', number: 2, widthMm: 1200, depthMm: 600, heightMm: 800 }),
    ],
  });

const traysOn = (at: Plan, shelf = 0) => at.rack.shelves[shelf]?.trays ?? [];
const duplicate = (at: Plan, ...items: string[]) => run(at, commands.duplicateBeside, { items });

describe('a duplicate', () => {
  it('keeps the gap of its neighbours, goes on behind them, and is refused on a full shelf', () => {
    let now = plan();
    for (let copies = 0; copies < 6; copies++) now = duplicate(now, 'tray:t1');
    const places = traysOn(now).map(({ letter, xMm, yMm }) => [letter, xMm, yMm]);
    expect(places.slice(2, 4)).toEqual([
      ['C', 610, 10],
      ['D', 910, 10],
    ]);
    expect(traysOn(now)).toHaveLength(8);
    const [shelf] = now.rack.shelves;
    if (!shelf) throw new Error('shelf 1 is there');
    const rects = placedOn(now.rack, shelf, 'tray').map(({ rect }) => rect);
    const whole = { xMm: 0, yMm: 0, widthMm: 1200, depthMm: 600 };
    expect(rects.every((rect) => rectInside(rect, whole))).toBe(true);
    expect(rects.some((a, i) => rects.slice(i + 1).some((b) => rectsOverlap(a, b)))).toBe(false);
    expect(refusal(now, commands.duplicateBeside, { items: ['tray:t1'] })).toBe(
      'Shelf 1 has no free space for a copy of tray 1A. Make room there, or copy to other shelves.',
    );
  });

  it('of two trays is set down as they stand to each other', () => {
    const now = duplicate(plan(), 'tray:t1', 'tray:t2');
    expect(traysOn(now).map(({ xMm }) => xMm)).toEqual([10, 310, 610, 910]);
  });

  it('of a lamp or a board hangs or stands by itself', () => {
    const lamps = placedOf(duplicate(plan(), 'lamp:l1'), ['lamp:l1', 'lamp:l2', 'lamp:l100']);
    expect(lamps).toHaveLength(3);
    const rects = lamps.map(({ rect }) => rect);
    expect(rects.some((a, i) => rects.slice(i + 1).some((b) => rectsOverlap(a, b)))).toBe(false);
    const board = {
      direction: 'across' as const,
      atMm: 600,
      thicknessMm: 18,
      reflectance: 0.8,
      downToMm: 90,
    } as const;
    const parted = run(plan(), commands.addBoard, { shelfIds: ['s1'], board });
    const id = parted.rack.shelves[0]?.boards?.[0]?.id ?? '';
    const twice = duplicate(parted, `board:${id}`);
    // Of the two halves, 591 mm each, the left one is parted.
    expect(twice.rack.shelves[0]?.boards?.map(({ atMm }) => atMm)).toEqual([600, 295.5]);
  });
});

describe('lining up', () => {
  const align = (to: Parameters<typeof commands.alignItems.run>[1]['to'], ...items: string[]) =>
    run(plan(), commands.alignItems, { items, to });

  it('moves sides and middles together, and lamps to one height', () => {
    const moved = run(plan(), commands.moveItems, { items: ['tray:t2'], dxMm: 0, dyMm: 33 });
    const back = run(moved, commands.alignItems, { items: ['tray:t1', 'tray:t2'], to: 'back' });
    expect(traysOn(back).map(({ yMm }) => yMm)).toEqual([43, 43]);
    const middle = run(moved, commands.alignItems, { items: ['tray:t1', 'tray:t2'], to: 'middle' });
    expect(traysOn(middle).map(({ yMm }) => yMm)).toEqual([26.5, 26.5]);
    const high = align('highest', 'lamp:l1', 'lamp:l2');
    expect(high.rack.shelves[0]?.lamps.map(({ zMm }) => zMm)).toEqual([400, 400]);
  });

  it('refuses to pile up what stands side by side, and one thing alone', () => {
    const items = ['tray:t1', 'tray:t2'];
    expect(refusal(plan(), commands.alignItems, { items, to: 'left' })).toBe(
      'So tray 1A and tray 1B would stand in one place. Line them up by another side.',
    );
    expect(refusal(plan(), commands.alignItems, { items: ['tray:t1'], to: 'left' })).toMatch(/two/);
    // The narrow miss: one stands behind the other.
    const behind = run(plan(), commands.moveItems, { items: ['tray:t2'], dxMm: -7, dyMm: 270 });
    expect(traysOn(run(behind, commands.alignItems, { items, to: 'left' }))[1]?.xMm).toBe(10);
  });
});

describe('equal gaps', () => {
  it('leave the outermost where they are', () => {
    const three = run(plan(), commands.addTray, {
      shelfId: 's1',
      tray: { ...tray('t9', 'C', 900, 10) },
    });
    const items = traysOn(three).map(({ id }) => `tray:${id}`);
    const spread = run(three, commands.spreadItems, { items, along: 'across' });
    // From 10 to 1180 mm, less 3 × 280 mm: 330 mm for two gaps of 165 mm.
    expect(traysOn(spread).map(({ xMm }) => xMm)).toEqual([10, 455, 900]);
    expect(refusal(three, commands.spreadItems, { items, along: 'depth' })).toMatch(/no room/);
    expect(refusal(three, commands.spreadItems, { items: items.slice(1), along: 'across' })).toBe(
      'Equal gaps need three things or more on one shelf.',
    );
  });
});

describe('copies to other shelves', () => {
  it('stand and hang where they do on their own, where there is room', () => {
    const items = ['tray:t2', 'lamp:l1'];
    expect(shelvesWithRoom(plan(), items)).toEqual(['s2']);
    const args = { items, toShelfIds: ['s2'] };
    const copied = run(plan(), commands.copyToShelves, args);
    expect(label(plan(), commands.copyToShelves, args)).toBe(
      'Copy tray 1B and lamp 1 over shelf 1 to shelf 2',
    );
    expect(copied.rack.shelves[1]?.trays).toMatchObject([{ letter: 'A', xMm: 310, yMm: 10 }]);
    expect(copied.rack.shelves[1]?.lamps).toMatchObject([{ yMm: 100, zMm: 400 }]);
    expect(shelvesWithRoom(copied, items)).toEqual([]);
    expect(refusal(copied, commands.copyToShelves, args)).toBe(
      'Shelf 2 has no room for tray 1B: tray 2A is there.',
    );
    expect(refusal(copied, commands.copyToShelves, { items, toShelfIds: [] })).toMatch(/No other/);
  });

  it('are refused on a shelf too small for them, and of two shelves', () => {
    const small = run(plan(), commands.editShelf, { shelfId: 's2', patch: { widthMm: 589 } });
    const args = { items: ['tray:t2'], toShelfIds: ['s2'] };
    expect(refusal(small, commands.copyToShelves, args)).toBe('Shelf 2 is too small for tray 1B.');
    const fits = run(plan(), commands.editShelf, { shelfId: 's2', patch: { widthMm: 590 } });
    const copied = run(fits, commands.copyToShelves, args);
    const both = ['tray:t1', `tray:${copied.rack.shelves[1]?.trays[0]?.id ?? ''}`];
    expect(refusal(copied, commands.copyToShelves, { items: both, toShelfIds: ['s2'] })).toMatch(
      /one shelf/,
    );
  });
});
