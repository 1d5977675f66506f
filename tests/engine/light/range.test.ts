import { expect, it } from 'vitest';
import { coverageFactor, deviationOf, halfInterval } from '../../../renderer/engine/light/range';
import { normalLower } from '../../../renderer/engine/stats/distributions/normal';

// JCGM 100:2008: 4.3.4 (95 of 100 of a normal), 4.3.7 (limits): half / 1.96 and half / √3.
it('a range counts for between a normal’s 95 of 100 and even limits', () => {
  expect(deviationOf(1)).toBeGreaterThan(1 / 1.96);
  expect(deviationOf(1)).toBeLessThan(1 / Math.sqrt(3));
  expect(deviationOf(0.1) ** 2).toBeCloseTo((0.1 ** 2 / 3 + (0.1 / 1.96) ** 2) / 2, 15);
});

/** How often a sum stays within ± h: one range of deviation √share, the rest normal, 1 together. */
function held(h: number, share: number): number {
  const half = Math.sqrt(share) / deviationOf(1);
  const rest = Math.sqrt(1 - share);
  const normal = 2 * normalLower(h / Math.hypot(half / 1.96, rest)) - 1;
  const STEPS = 4000;
  let even = 0;
  for (let i = 0; i < STEPS; i++) {
    const at = half * ((2 * i + 1) / STEPS - 1);
    even += normalLower((h - at) / rest) - normalLower((-h - at) / rest);
  }
  return (normal + even / STEPS) / 2;
}

it.each([0, 0.1, 0.3, 0.42, 0.6, 0.75, 0.87, 0.93, 0.98])(
  'the interval holds 95 of 100 where %f of the variance is one range',
  (share) => {
    expect(held(coverageFactor(share), share)).toBeCloseTo(0.95, 3);
  },
);

it('of one range by itself it is 0.96 of the range, of nothing 0', () => {
  expect(halfInterval([deviationOf(1)], 0)).toBeCloseTo(0.96, 3);
  expect(halfInterval([0, 0], 0)).toBe(0);
  expect(halfInterval([], 4)).toBeCloseTo(2 * 1.96, 9);
});
