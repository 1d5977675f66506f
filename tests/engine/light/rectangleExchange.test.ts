import { expect, it } from 'vitest';
import {
  parallelExchange,
  rectangleExchange,
} from '../../../renderer/engine/light/bay/viewFactors';

const plate = (fromMm: number, bottomMm: number, wide: number, high: number) => ({
  fromMm,
  toMm: fromMm + wide,
  bottomMm,
  topMm: bottomMm + high,
});

// J. R. Howell, catalogue of configuration factors, C-11: directly opposed squares one side apart.
it('two squares one side apart exchange 0.1998', () => {
  expect(rectangleExchange(plate(0, 0, 1, 1), plate(0, 0, 1, 1), 1)).toBeCloseTo(0.1998, 4);
});

it('equal rectangles aside of each other exchange as the closed form for equal ones says', () => {
  const found = rectangleExchange(plate(0, 0, 2, 3), plate(5, 7, 2, 3), 4);
  expect(found).toBeCloseTo(parallelExchange(2, 3, 4, 5, 7), 10);
});

// View factor algebra: a whole exchanges what its parts do.
it('unlike rectangles add up', () => {
  const small = plate(1, 2, 1.5, 0.5);
  const whole = rectangleExchange(small, plate(-2, -1, 6, 4), 0.7);
  const parts = [plate(-2, -1, 2.5, 4), plate(0.5, -1, 3.5, 4)];
  expect(parts.reduce((sum, part) => sum + rectangleExchange(small, part, 0.7), 0)).toBeCloseTo(
    whole,
    10,
  );
});
