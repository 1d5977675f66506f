import { describe, expect, it } from 'vitest';
import type { Board, Shelf } from '../../../shared-types/rack';
import { ductOf } from '../../../renderer/engine/light/bay';
import { ppfdAtPoints } from '../../../renderer/engine/light/field';
import type { PointMm } from '../../../renderer/engine/light/sources/direct';
import { traceShelf, type TracedShelf } from './boardTracer';
import { kind, lamp, shelf } from './racks';

const board = (change: Partial<Board> = {}): Board => ({
  id: 'w1',
  direction: 'across',
  atMm: 600,
  thicknessMm: 18,
  reflectance: 0.85,
  downToMm: 0,
  ...change,
});
const bays = [{ id: 'b1' }, { id: 'b2' }];
const white = { above: 0.7, canopy: 0.2, front: 0.6, back: 0.6, left: 0.6, right: 0.6 };

/** Points in the middle of equal cells, and their PPFD. */
function cells(xFrom: number, xTo: number, depthMm: number, zMm: number): PointMm[] {
  const points: PointMm[] = [];
  for (let i = 0; i < 40; i++) {
    for (let j = 0; j < 40; j++) {
      points.push({
        xMm: xFrom + ((i + 0.5) * (xTo - xFrom)) / 40,
        yMm: ((j + 0.5) * depthMm) / 40,
        zMm,
      });
    }
  }
  return points;
}

/** Photons (µmol s⁻¹) that land on the canopy left and right of the board. */
function landed(s: Shelf, zMm: number, b: Board) {
  const half = b.thicknessMm / 2;
  const sum = (xFrom: number, xTo: number) => {
    const ppfd = ppfdAtPoints(s, [strip], cells(xFrom, xTo, s.depthMm, zMm));
    const mean = ppfd.reduce((total, value) => total + value, 0) / ppfd.length;
    return mean * (xTo - xFrom) * s.depthMm * 1e-6;
  };
  return { left: sum(0, b.atMm - half), right: sum(b.atMm + half, s.widthMm) };
}

const strip = kind({ lengthMm: 500 });

describe('a board', () => {
  it('that reaches the canopy makes two shelves of one', () => {
    const lamps = [
      lamp({ xMm: 290, yMm: 200 }),
      lamp({ id: 'l2', xMm: 900, yMm: 300, dimming: 0.3 }),
    ];
    const b = board({ atMm: 620 });
    const parted = shelf({ lamps, reflectances: white, boards: [b], bays });
    const alone = (x: number, widthMm: number, l: number) =>
      shelf({
        widthMm,
        lamps: lamps.slice(l, l + 1).map((one) => ({ ...one, xMm: one.xMm - x })),
        reflectances: { ...white, ...(x === 0 ? { right: 0.85 } : { left: 0.85 }) },
      });
    const at = (s: Shelf, x: number) =>
      ppfdAtPoints(s, [strip], [{ xMm: x, yMm: 210, zMm: 40 }])[0] ?? 0;
    expect(at(parted, 300)).toBeCloseTo(at(alone(0, 611, 0), 300), 9);
    expect(at(parted, 900)).toBeCloseTo(at(alone(629, 571, 1), 271), 9);
  });

  it('lets nothing through straight down from lamps beyond it where no gap is', () => {
    const parted = shelf({
      lamps: [lamp({ xMm: 290, yMm: 300 })],
      boards: [board()],
      bays,
    });
    const [dark = 1] = ppfdAtPoints(parted, [strip], [{ xMm: 700, yMm: 300, zMm: 0 }]);
    expect(dark).toBe(0);
  });

  it('cuts a lamp that crosses it, as two shorter lamps', () => {
    const whole = shelf({ lamps: [lamp({ yMm: 300 })], boards: [board()], bays });
    const two = shelf({
      lamps: [300, 900].map((xMm, i) =>
        lamp({ id: `l${i}`, kindId: 'half', xMm, yMm: 300, dimming: 0.5 }),
      ),
      boards: [board()],
      bays,
    });
    const points = cells(0, 1200, 600, 20);
    const long = kind({ lengthMm: 1200 });
    const a = ppfdAtPoints(whole, [long], points);
    const b = ppfdAtPoints(two, [{ ...long, id: 'half', lengthMm: 600 }], points);
    a.forEach((value, i) => expect(value).toBeCloseTo(b[i] ?? 0, 9));
  });
});

// A slot much higher than it is deep lets all pass; a deep one lets pass what its strips send on.
describe('the gap beneath a board', () => {
  it('passes light by crossed strings where it is black', () => {
    const { through, back } = ductOf(60, 18, { below: 0, above: 0 });
    expect(through).toBeCloseTo((Math.hypot(60, 18) - 18) / 60, 12);
    expect(back).toBe(0);
  });

  it('loses nothing where it is white', () => {
    const { through, back } = ductOf(40, 25, { below: 1, above: 1 });
    expect(through + back).toBeCloseTo(1, 12);
  });
});

it('a board lengthwise does what a board across does to a shelf turned by a right angle', () => {
  const b = board({ downToMm: 130 });
  const lamps = [200, 400].map((yMm, i) => lamp({ id: `l${i}`, xMm: 290, yMm, zMm: 400 }));
  const across = shelf({ reflectances: white, lamps, boards: [b], bays });
  const turned = shelf({
    widthMm: 600,
    depthMm: 1200,
    reflectances: white,
    lamps: lamps.map((one) => ({ ...one, xMm: one.yMm, yMm: one.xMm, rotationDeg: 90 })),
    boards: [{ ...b, direction: 'lengthwise' }],
    bays,
  });
  const points = cells(0, 1200, 600, 50);
  const here = ppfdAtPoints(across, [strip], points);
  const there = ppfdAtPoints(
    turned,
    [strip],
    points.map(({ xMm, yMm, zMm }) => ({ xMm: yMm, yMm: xMm, zMm })),
  );
  here.forEach((value, i) => expect(there[i]).toBeCloseTo(value, 6));
});

const traced = (change: Partial<TracedShelf>, b: Board): TracedShelf => ({
  widthMm: 1200,
  depthMm: 600,
  canopyMm: 50,
  topMm: 450,
  above: white.above,
  canopy: white.canopy,
  sides: white.front,
  board: b,
  strips: [
    { xMm: 290, yMm: 200, zMm: 400, lengthMm: 500, alongX: true },
    { xMm: 290, yMm: 400, zMm: 400, lengthMm: 500, alongX: true },
  ],
  ...change,
});

// Against photons followed one by one: lamps on the left alone, so that all on the right leaked in.
describe('light that passes beneath a board', () => {
  const photons = 1_000_000;
  it.each([
    ['a gap of 80 mm, white sides', board({ downToMm: 130 }), white],
    ['a gap of 30 mm, white sides', board({ downToMm: 80 }), white],
    [
      'half the height, dark sides',
      board({ downToMm: 250 }),
      { ...white, front: 0, back: 0, left: 0, right: 0 },
    ],
    ['a thick dark board', board({ downToMm: 130, thicknessMm: 60, reflectance: 0.1 }), white],
    ['a board near the lamps’ end', board({ downToMm: 150, atMm: 560 }), white],
  ])('is as traced: %s', (_what, b, reflectances) => {
    const lamps = [200, 400].map((yMm, i) => lamp({ id: `l${i}`, xMm: 290, yMm, zMm: 400 }));
    const s = shelf({ clearanceMm: 450, reflectances, lamps, boards: [b], bays });
    const flux = 80;
    const found = landed(s, 50, b);
    const seen = traceShelf(traced({ sides: reflectances.front }, b), photons, 'seven boards');
    // The middle of the bay is lit within 1.5 %, and what leaks within 5 % of itself.
    const near = (value: number, share: number, error: number, within: number) =>
      Math.abs(value / flux - share) < 3 * error + within * share;
    expect([found.left / flux, found.right / flux, seen]).toSatisfy(() =>
      near(found.left, seen.left, seen.leftError, 0.015),
    );
    expect([found.left / flux, found.right / flux, seen]).toSatisfy(() =>
      near(found.right, seen.right, seen.rightError, 0.05),
    );
  });
});
