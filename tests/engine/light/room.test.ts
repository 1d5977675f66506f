import { describe, expect, it } from 'vitest';
import type { Rack, Room, Shelf } from '../../../shared-types/rack';
import { lightStamp, shelfInRoom } from '../../../renderer/engine/lamps';
import { leakNotices, potLight } from '../../../renderer/engine/light';
import { baysOf } from '../../../renderer/engine/geometry';
import { kind, lamp, lightPlan, shelf, tray } from './racks';

const reflectances = { above: 0.7, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 };

/** Three racks of one shelf in a row, 50 mm between the first two, the third far off. */
const shelfAt = (n: number, xMm: number, dimming = 1): Shelf =>
  shelf({
    id: `s${n}`,
    number: n,
    reflectances,
    clearanceMm: 450,
    stands: { xMm, yMm: 800, turnDeg: 0 },
    trays: [tray({ id: `t${n}` })],
    lamps: [lamp({ id: `l${n}`, zMm: 400, dimming, group: `g${n}` })],
  });
const rackOf = (...dimmings: [number, number, number]): Rack => ({
  lampKinds: [kind({ lengthMm: 1100 })],
  shelves: [800, 2050, 6000].map((xMm, i) => shelfAt(i + 1, xMm, dimmings[i])),
});
const rack = rackOf(1, 1, 1);
const size = { widthMm: 8000, depthMm: 2400, heightMm: 2000 };
const white: Room = { ...size, walls: 0.7, floor: 0.7, ceiling: 0.7 };
const ofFirst = (r: Rack) => {
  const found = potLight(r, lightPlan()).shelves.get('s1');
  return {
    mean: found?.evenness?.mean ?? NaN,
    plusMinus: found?.uncertainty.plusMinusPercent ?? NaN,
    reason: found?.uncertainty.reason('metric') ?? '',
  };
};

describe('racks in a room', () => {
  it('a rack is lit by the one beside it from its place alone, and by its room', () => {
    const [first] = rack.shelves;
    if (!first) throw new Error('a shelf is expected');
    const alone = ofFirst({ ...rack, shelves: [first] });
    const beside = ofFirst(rack);
    const inRoom = ofFirst({ ...rack, room: white });
    expect(beside.mean).toBeGreaterThan(1.02 * alone.mean);
    expect(inRoom.mean).toBeGreaterThan(1.01 * beside.mean);
    expect(
      ofFirst({ ...rack, room: { ...white, walls: 0, floor: 0, ceiling: 0 } }).mean,
    ).toBeCloseTo(beside.mean, 6);
  });

  it('surfaces that nobody knows count between dark and white ones, and widen the ±', () => {
    const surfaces = (value: number) => ({ ...size, walls: value, floor: value, ceiling: value });
    const [dark, unknown, pale] = [surfaces(0.2), size, surfaces(0.8)].map((room) =>
      ofFirst({ ...rack, room }),
    );
    if (!dark || !unknown || !pale) throw new Error('three rooms are expected');
    expect(unknown.mean).toBeCloseTo((dark.mean + pale.mean) / 2, 6);
    expect(unknown.plusMinus).toBeGreaterThan(Math.max(dark.plusMinus, pale.plusMinus));
    expect(unknown.reason).toContain('light of the room ±');
  });

  it('lamps of other racks that the room sends on count for the hours that they burn', () => {
    const short = rack.shelves.map((one) =>
      one.id === 's1' ? one : { ...one, bays: [{ id: `b${one.number}`, photoperiodHours: 8 }] },
    );
    const pot = (r: Rack) => potLight(r, lightPlan()).pots.get('t1:1:6');
    const inRoom = { ...rack, room: white };
    const [long, half] = [pot(inRoom), pot({ ...inRoom, shelves: short })];
    const own = pot({ ...rackOf(1, 0, 0), room: white });
    expect(half?.ppfdUmol).toBeCloseTo(long?.ppfdUmol ?? 0, 9);
    // 8 h less, in mol, of what the others send: all of the light but one's own lamps'.
    const less = (((long?.ppfdUmol ?? 0) - (own?.ppfdUmol ?? 0)) * 8 * 3600) / 1e6;
    expect(((long?.dliMol ?? 0) - (half?.dliMol ?? 0)) / less).toBeCloseTo(1, 1);
  });

  it('readings hold until what stands beside a shelf, its lamps or the room change', () => {
    const stamp = (r: Rack) => {
      const [first] = r.shelves;
      return first ? lightStamp(shelfInRoom(first, r), r.lampKinds) : '';
    };
    const moved = (id: string, xMm: number) => ({
      ...rack,
      shelves: rack.shelves.map((one) =>
        one.id === id ? { ...one, stands: { xMm, yMm: 800, turnDeg: 0 as const } } : one,
      ),
    });
    expect(stamp(moved('s3', 6500))).toBe(stamp(rack));
    expect(stamp(rackOf(1, 1, 0.5))).toBe(stamp(rack));
    expect(stamp(moved('s2', 2100))).not.toBe(stamp(rack));
    expect(stamp(rackOf(1, 0.5, 1))).not.toBe(stamp(rack));
    expect(stamp({ ...rack, room: white })).not.toBe(stamp(rack));
  });

  it('light of another level from a rack beside is told, without that anyone named it', () => {
    const dim = rackOf(0.1, 1, 1);
    const levels = new Map(
      dim.shelves.flatMap((s, i) => baysOf(s).map(({ id }) => [id, i === 0 ? 'dim' : 'full'])),
    );
    const told = (r: Rack) => leakNotices(r, lightPlan(), levels, 'metric').map((one) => one.about);
    expect(told(dim)).toEqual([['bay:b1']]);
    const apart = dim.shelves.map((one) =>
      one.id === 's2' ? { ...one, stands: { xMm: 4200, yMm: 800, turnDeg: 0 as const } } : one,
    );
    expect(told({ ...dim, shelves: apart })).toEqual([]);
  });

  it('plants of the racks around have grown as far as those of the one that is asked about', () => {
    const grown = (plantingMm: number, harvestMm: number): Rack => ({
      ...rack,
      room: white,
      shelves: rack.shelves.map((one) => ({ ...one, canopy: { plantingMm, harvestMm } })),
    });
    const at = (r: Rack, canopyAt: 'planting' | 'midway' | 'harvest') =>
      [...potLight(r, lightPlan({ canopyAt })).pots.values()].map(({ ppfdUmol }) => ppfdUmol);
    const level = at(grown(150, 150), 'planting');
    expect(at(grown(100, 200), 'midway')).toEqual(level);
    expect(at(grown(150, 220), 'planting')).toEqual(level);
    expect(at(grown(20, 150), 'harvest')).toEqual(level);
    expect(at(grown(100, 202), 'midway')).not.toEqual(level);
  });
});
