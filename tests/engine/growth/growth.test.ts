import { describe, expect, it } from 'vitest';
import * as growth from '../../../renderer/engine/growth';

describe('growth indices', () => {
  it('gain in leaves or shoots is a difference and may be a loss', () => {
    expect(growth.gain({ start: 4, end: 11 })).toBe(7);
    expect(growth.gain({ start: 3, end: 2 })).toBe(-1);
  });

  it('a plant that stays as it is never doubles', () => {
    expect(growth.doublingTimeDays(growth.relativeGrowthRate({ start: 2, end: 2, days: 7 }))).toBe(
      Infinity,
    );
  });

  it('net assimilation where the leaf area stays the same is (W₂ − W₁)/(L T)', () => {
    const rate = (endArea: number): number =>
      growth.netAssimilationRate({ mass: 1, leafArea: 2 }, { mass: 4, leafArea: endArea }, 10);
    expect(rate(2)).toBeCloseTo(0.15, 15);
    expect(rate(2 * (1 + 1e-9))).toBeCloseTo(0.15, 9);
  });

  it('plants weighed twice: the standard error is that of their own rates', () => {
    // Rates ln 2/10 and ln 8/10: mean ln 4/10, SE half their distance.
    const got = growth.meanRelativeGrowthRate([
      { start: 1, end: 2, days: 10 },
      { start: 2, end: 16, days: 10 },
    ]);
    expect(got.rate).toBeCloseTo(Math.log(4) / 10, 14);
    expect(got.se).toBeCloseTo(Math.log(2) / 10, 14);
  });

  it('has no standard error from a single plant', () => {
    expect(growth.groupRelativeGrowthRate([1], [2, 3], 7).se).toBeNull();
    expect(growth.meanRelativeGrowthRate([{ start: 1, end: 2, days: 7 }]).se).toBeNull();
    expect(growth.fittedRelativeGrowthRate([0, 7], [1, 2]).se).toBeNull();
  });

  it('refuses impossible input', () => {
    expect(() => growth.relativeGrowthRate({ start: 0, end: 2, days: 7 })).toThrow(
      'relative growth rate: start is 0; expected a finite number above 0',
    );
    expect(() => growth.relativeGrowthRate({ start: 1, end: -2, days: 7 })).toThrow('end is -2');
    expect(() => growth.absoluteGrowthRate({ start: 1, end: 2, days: 0 })).toThrow('days is 0');
    expect(() => growth.percentGain({ start: 0, end: 2 })).toThrow('start is 0');
    expect(() => growth.groupRelativeGrowthRate([1, 0], [2], 7)).toThrow('start mass 2 is 0');
    expect(() => growth.meanRelativeGrowthRate([])).toThrow('no plants');
    expect(() => growth.fittedRelativeGrowthRate([7, 7], [2, 3])).toThrow('one date only');
    expect(() => growth.phyllochronDays(6, 6, 7)).toThrow('leaves gained is 0');
    expect(() => growth.plastochronIndex(6, 14, 11)).toThrow('either side of 10 mm');
  });
});
