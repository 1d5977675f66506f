/**
 * Closed forms of J. R. Howell, “A catalog of radiation configuration factors”, by the letters that the
 * catalogue gives them, written out as printed there (from memory, not re-read; the values that the
 * sheet trade-facts.md holds agree) against the program's own sums over corners.
 */
import { describe, expect, it } from 'vitest';
import { bayBox } from '../../renderer/engine/light/bay';
import { gather } from '../../renderer/engine/light/bay/gather';
import {
  parallelCorner,
  parallelExchange,
  perpendicularExchange,
  rectangleExchange,
} from '../../renderer/engine/light/bay/viewFactors';
import { elementToParallel, elementToUpright } from './howell';

const { atan, log, PI, sqrt } = Math;

/** C-11: identical, parallel, directly opposed rectangles of a × b, c apart. */
function c11(a: number, b: number, c: number): number {
  const [x, y] = [a / c, b / c];
  const [x2, y2] = [1 + x * x, 1 + y * y];
  return (
    (2 / (PI * x * y)) *
    (log(sqrt((x2 * y2) / (1 + x * x + y * y))) +
      x * sqrt(y2) * atan(x / sqrt(y2)) +
      y * sqrt(x2) * atan(y / sqrt(x2)) -
      x * atan(x) -
      y * atan(y))
  );
}

/** C-14: from a rectangle w wide to one h high at 90°, both l long along their common edge. */
function c14(wide: number, high: number, l: number): number {
  const [w, h] = [wide / l, high / l];
  const [w2, h2] = [w * w, h * h];
  const both = sqrt(h2 + w2);
  const product =
    (((1 + w2) * (1 + h2)) / (1 + w2 + h2)) *
    ((w2 * (1 + w2 + h2)) / ((1 + w2) * (w2 + h2))) ** w2 *
    ((h2 * (1 + h2 + w2)) / ((1 + h2) * (h2 + w2))) ** h2;
  return (w * atan(1 / w) + h * atan(1 / h) - both * atan(1 / both) + log(product) / 4) / (PI * w);
}

const lengths = [0.2, 0.5, 1, 3] as const;
const pairs = lengths.flatMap((a) => lengths.map((b) => [a, b] as const));
const near = (found: number, expected: number) =>
  expect(Math.abs(found / expected - 1)).toBeLessThan(1e-9);

describe('by the catalogue', () => {
  it('C-11 of every shape, and 0.1998 of squares one side apart', () => {
    for (const [a, b] of pairs) near(parallelExchange(a, b, 0.7, 0, 0) / (a * b), c11(a, b, 0.7));
    expect(c11(1, 1, 1)).toBeCloseTo(0.1998, 4);
  });

  it('C-14 of every shape, and 0.2000 of squares', () => {
    for (const [w, h] of pairs)
      near(perpendicularExchange(1.3, 0, 0, w, 0, h) / (1.3 * w), c14(w, h, 1.3));
    expect(c14(1, 1, 1)).toBeCloseTo(0.20004, 5);
  });

  it('B-3 of every shape', () => {
    for (const [a, b] of pairs) near(parallelCorner(a, b, 0.7 ** 2), elementToParallel(a, b, 0.7));
  });

  it('B-4 of every shape, from a point on the floor to a side', () => {
    for (const [high, wide] of pairs) {
      const size = { widthMm: 1000 * wide, depthMm: 1500, bottomMm: 0, topMm: 1000 * high };
      const box = bayBox(size, { x: 1, y: 1, z: 1 });
      const { first } = box.faces.front;
      const lit = new Float64Array(box.count).fill(1, first, first + 1);
      const found = gather(box, lit, [{ xMm: 0, yMm: 700, zMm: 0 }]);
      near(found[0] ?? NaN, elementToUpright(high, wide, 0.7));
    }
  });
});

const plate = (fromMm: number, bottomMm: number, wide: number, high: number) => ({
  fromMm,
  toMm: fromMm + wide,
  bottomMm,
  topMm: bottomMm + high,
});

describe('rectangles aside of each other', () => {
  it('C-11 is what equal ones exchange face to face', () => {
    near(rectangleExchange(plate(0, 0, 2, 3), plate(0, 0, 2, 3), 4) / 6, c11(2, 3, 4));
  });

  // View factor algebra: a whole exchanges what its parts do.
  it('four quarters of one exchange with the whole what C-11 says', () => {
    const whole = plate(0, 0, 2, 2);
    const quarters = [plate(0, 0, 1, 1), plate(1, 0, 1, 1), plate(0, 1, 1, 1), plate(1, 1, 1, 1)];
    const sum = quarters.reduce((total, part) => total + rectangleExchange(part, whole, 0.7), 0);
    near(sum / 4, c11(2, 2, 0.7));
  });

  it('unlike ones add up', () => {
    const small = plate(1, 2, 1.5, 0.5);
    const whole = rectangleExchange(small, plate(-2, -1, 6, 4), 0.7);
    const parts = [plate(-2, -1, 2.5, 4), plate(0.5, -1, 3.5, 4)];
    near(
      parts.reduce((sum, part) => sum + rectangleExchange(small, part, 0.7), 0),
      whole,
    );
  });
});
