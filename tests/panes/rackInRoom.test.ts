import { describe, expect, it } from 'vitest';
import type { QuarterTurn, Shelf } from '../../shared-types/rack';
import { placeRack } from '../../renderer/document/commands';
import {
  besideAll,
  outlineOfRack,
  placedAt,
  quarterOn,
  rackName,
} from '../../renderer/panes/rack/room/rackInRoom';
import { roomAround } from '../../renderer/panes/rack/room/roomAround';
import { standsBehind } from '../../renderer/panes/light/standsBehind';
import { planOf, shelfOf } from '../builders/rackParts';
import { run } from '../builders/run';

const at = (n: number, xMm = 0, yMm = 0, turnDeg: QuarterTurn = 0): Shelf =>
  shelfOf({ id: `s${n}`, number: n, stands: { xMm, yMm, turnDeg } });

describe('a rack of 1200 × 600 mm in its room', () => {
  it('four quarter turns about its middle bring it back, and one swaps its sides', () => {
    const places = [at(1, 100, 200)];
    for (let i = 0; i < 4; i++) {
      const { xMm, yMm, turnDeg } = quarterOn([places[i] ?? at(1)]);
      places.push(at(1, xMm, yMm, turnDeg));
    }
    expect(outlineOfRack([places[1] ?? at(1)])).toEqual({
      xMm: 400,
      yMm: -100,
      widthMm: 600,
      depthMm: 1200,
    });
    expect(places[4]?.stands).toEqual(places[0]?.stands);
  });

  it('is placed by the corner of its outline, however it is turned', () => {
    for (const turn of [0, 90, 180, 270] as const) {
      const { xMm, yMm, turnDeg } = placedAt([at(1, 5, 7, turn)], 300, 400);
      expect(outlineOfRack([at(1, xMm, yMm, turnDeg)])).toMatchObject({ xMm: 300, yMm: 400 });
    }
  });

  it('another one comes to the right of all', () => {
    expect(besideAll([at(1)], [[at(1)], [at(2, 3000)]])).toMatchObject({ xMm: 4250, yMm: 0 });
  });

  it('bears the numbers of its shelves', () => {
    expect(rackName([at(2)])).toBe('Shelf 2');
    expect(rackName([at(3), at(1), at(2)])).toBe('Shelves 1 to 3');
    expect(rackName([at(1), at(4)])).toBe('Shelves 1 and 4');
  });

  it('a room that is made around racks keeps them as they stand to each other, inside', () => {
    const plan = planOf('room', { shelves: [at(1), at(2, 1250)], lampKinds: [] });
    const made = roomAround([[at(1)], [at(2, 1250)]]).reduce((p, c) => c.run(p, null), plan);
    const [a, b] = made.rack.shelves.map(({ stands }) => stands?.xMm ?? NaN);
    expect((b ?? 0) - (a ?? 0)).toBe(1250);
    expect(a).toBeGreaterThanOrEqual(800);
    expect(made.rack.room?.widthMm).toBeGreaterThanOrEqual((b ?? 0) + 1200 + 800);
  });

  it('what stands beside a side is named, as long as nothing is said of it', () => {
    const shelves = [at(1), at(2, 1250)];
    const plan = planOf('two', { shelves, lampKinds: [] });
    const [first] = shelves;
    if (!first) throw new Error('a shelf is expected');
    expect(standsBehind(first, plan.rack)).toEqual({ right: 'open to shelf 2' });
    const away = run(plan, placeRack, {
      shelfIds: ['s2'],
      place: { xMm: 9000, yMm: 0, turnDeg: 0 },
    });
    expect(standsBehind(first, away.rack)).toEqual({});
    const wall = { ...away.rack, room: { widthMm: 9000, depthMm: 9000, heightMm: 2500 } };
    expect(standsBehind(first, wall)).toEqual({
      front: 'open to wall of the room',
      left: 'open to wall of the room',
    });
  });
});
