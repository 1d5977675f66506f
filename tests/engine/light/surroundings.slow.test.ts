import { describe, expect, it } from 'vitest';
import type { Facing, QuarterTurn, Room, Shelf, Side } from '../../../shared-types/rack';
import { shelfInRoom } from '../../../renderer/engine/lamps';
import { bay, compare, D, faced, open, sheetsOf, stripsAt, W, type Compared } from './bayScene';
import type { Sheet } from './sceneTracer';

/**
 * Means within three standard errors of the tracer, and cells no farther from it than chance takes them
 * once in 100,000 times, so that a dozen scenes agree. The errors are the tracer's own, by its batches and counts.
 */
function expectAgreement({ found, traced, error, cells, cellsMost, minToMean }: Compared): void {
  expect(Math.abs(found - traced) / error).toBeLessThan(3);
  expect(cells).toBeLessThan(cellsMost);
  expect(Math.abs(minToMean.found - minToMean.traced) / minToMean.error).toBeLessThan(3);
  // A tracer that says nothing would agree with anything.
  expect(error / traced).toBeLessThan(0.012);
}

const PHOTONS = 60_000;

describe('against photons followed one by one', () => {
  it('an open bay', () => {
    expectAgreement(compare(bay(), sheetsOf('A'), stripsAt(), PHOTONS));
  });

  it('a white wall 100 mm behind', () => {
    const s = faced({ back: { kind: 'wall', reflectance: 0.85, distanceMm: 100 } });
    const [low, high] = [[-3000, -3000] as const, [4200, 3000] as const];
    const wall: Sheet = { axis: 1, at: D + 100, low, high, reflectance: 0.85 };
    expectAgreement(compare(s, [...sheetsOf('A'), wall], stripsAt(), PHOTONS));
  });

  it.each<[string, Side[], number, number]>([
    ['all sides, nine tenths as a mirror', ['front', 'back', 'left', 'right'], 0.9, 0.9],
    ['all but the front, as a mirror alone', ['back', 'left', 'right'], 0.95, 1],
    ['the back, half as a mirror', ['back'], 0.9, 0.5],
  ])('foil on %s', (_, on, reflectance, specular) => {
    const foil: Facing = { kind: 'foil', specular };
    const each = <T>(value: T) => Object.fromEntries(on.map((side) => [side, value]));
    const s = faced(each(foil), { ...open, ...each(reflectance) });
    const sheets = sheetsOf('A', 0, 0, 0, each({ reflectance, specular }));
    expectAgreement(compare(s, sheets, stripsAt(), PHOTONS));
  });
});

type Place = readonly [x: number, y: number, z: number, turnDeg?: QuarterTurn, dimming?: number];

/** Bays as they stand in the room, of which one is judged. */
function scene(places: readonly Place[], judged: number, room?: Room): [Shelf, Sheet[]] {
  const shelves = places.map(([xMm, yMm, heightMm, turnDeg = 0], i) => {
    const at = turnDeg === 180 ? { xMm: xMm + W, yMm: yMm + D } : { xMm, yMm };
    return bay({ id: `s${i + 1}`, number: i + 1, heightMm, stands: { ...at, turnDeg } });
  });
  const shelf = shelves[judged];
  if (!shelf) throw new Error('a judged bay is expected');
  const sheets = places.flatMap(([x, y, z], i) => sheetsOf(i === judged ? 'A' : `${i}`, x, y, z));
  return [shelfInRoom(shelf, { shelves, ...(room && { room }) }), sheets];
}

const lampsOf = (places: readonly Place[]) => places.flatMap(([x, y, z]) => stripsAt(x, y, z));

describe('bays that light each other, from where they stand', () => {
  it.each<[string, Place[], number]>([
    [
      'two side by side across 50 mm',
      [
        [0, 0, 0],
        [W + 50, 0, 0],
      ],
      0,
    ],
    [
      'back to back across 50 mm, one of them turned',
      [
        [0, 0, 0],
        [0, D + 50, 0, 180],
      ],
      0,
    ],
    ['five in a row, the middle one', [0, 1, 2, 3, 4].map((i) => [i * (W + 50), 0, 0]), 2],
    [
      'across an aisle, both back to back with another',
      [0, 650, 2050, 2700].map((y) => [0, y, 0]),
      1,
    ],
    [
      'two levels across an aisle',
      [
        [0, 0, 0],
        [0, D + 700, 500],
        [0, D + 700, 0],
      ],
      0,
    ],
  ])('%s', (_, places, judged) => {
    const [shelf, sheets] = scene(places, judged);
    expectAgreement(compare(shelf, sheets, lampsOf(places), PHOTONS * Math.min(places.length, 3)));
  });

  it('a dark bay gets what its neighbour sends', () => {
    const places: Place[] = [
      [0, 0, 0],
      [W + 50, 0, 0],
    ];
    const [shelf, sheets] = scene(places, 0);
    const dark = { ...shelf, lamps: [] };
    const theirs = lampsOf(places.slice(1));
    const { found, traced, error } = compare(dark, sheets, theirs, 4 * PHOTONS);
    expect(Math.abs(found - traced) / error).toBeLessThan(3);
  });
});

describe('what escapes comes back from the room', () => {
  const roomSheets = ({ widthMm, depthMm, heightMm, walls = 0, floor = 0, ceiling = 0 }: Room) =>
    [
      { axis: 2, at: 0, high: [widthMm, depthMm], reflectance: floor },
      { axis: 2, at: heightMm, high: [widthMm, depthMm], reflectance: ceiling },
      ...[0, widthMm].map((at) => ({ axis: 0, at, high: [depthMm, heightMm], reflectance: walls })),
      ...[0, depthMm].map((at) => ({ axis: 1, at, high: [widthMm, heightMm], reflectance: walls })),
    ].map((sheet) => ({ ...sheet, low: [0, 0] }) as unknown as Sheet);
  const white = { walls: 0.8, floor: 0.8, ceiling: 0.8 };
  const stack = (x: number): Place[] => [200, 700, 1200].map((z) => [x, 1000, z]);

  it.each<[string, Place[], number, Room, number]>([
    [
      'one bay in a white room',
      [[1000, 1000, 800]],
      0,
      { widthMm: 4000, depthMm: 3000, heightMm: 2500, ...white },
      1,
    ],
    [
      'one rack of three in a grey room, the middle one',
      stack(1000),
      1,
      { widthMm: 4000, depthMm: 3000, heightMm: 2500, walls: 0.6, floor: 0.3, ceiling: 0.7 },
      2,
    ],
    [
      'nine bays in a white room, the one in their middle',
      [...stack(1000), ...stack(2250), ...stack(3500)],
      4,
      { widthMm: 5700, depthMm: 3000, heightMm: 2500, ...white },
      3,
    ],
  ])('%s', (_, places, judged, room, times) => {
    const [shelf, sheets] = scene(places, judged, room);
    const all = [...sheets, ...roomSheets(room)];
    expectAgreement(compare(shelf, all, lampsOf(places), times * PHOTONS));
  });
});
