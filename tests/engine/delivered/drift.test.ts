import { describe, expect, it } from 'vitest';
import { driftBetween, driftFromSetting } from '../../../renderer/engine/delivered';

const dated = (values: readonly number[]) =>
  values.map((value, i) => ({ date: `2026-03-0${i + 1}`, value }));
const set = (value: number, plusMinus = 0) => ({ value, plusMinus });

describe('a drift from a setting', () => {
  it('takes three days in a row on one side, and one odd reading is none', () => {
    expect(driftFromSetting('ec', dated([2, 1.5, 1.6, 1.4, 2]), set(2))).toMatchObject({
      days: 3,
      from: '2026-03-02',
      to: '2026-03-04',
    });
    expect(driftFromSetting('ec', dated([2, 1.5, 1.6, 2, 1.4]), set(2))).toBeNull();
    expect(driftFromSetting('ec', dated([1.5, 2.5, 1.5, 2.5]), set(2))).toBeNull();
  });

  it('tells the means of these days alone, in whatever order they were logged', () => {
    const figures = dated([2, 1.5, 1.6, 1.4, 2]).reverse();
    const drift = driftFromSetting('ec', figures, set(2));
    expect(drift?.mean).toBeCloseTo((1.5 + 1.6 + 1.4) / 3, 12);
    expect(drift?.expected).toBe(2);
  });

  it.each([
    ['ec', 2, 0.2],
    ['ec', 0.5, 0.1],
    ['ph', 6, 0.3],
    ['temperature', 21, 1.5],
    ['hours', 16, 0.25],
    ['ppfd', 200, 20],
    ['ppfd', 20, 5],
  ] as const)('allows %s of %s to be off by %s, and no more', (measure, value, allowed) => {
    const off = (by: number) => dated([value - by, value - by, value - by]);
    expect(driftFromSetting(measure, off(allowed), set(value))).toBeNull();
    expect(driftFromSetting(measure, off(allowed * 1.01), set(value))).not.toBeNull();
  });

  it('allows for the ± of a computed setting, added as errors are', () => {
    // √(20² + 15²) = 25.
    expect(driftFromSetting('ppfd', dated([175, 175, 175]), set(200, 15))).toBeNull();
    expect(driftFromSetting('ppfd', dated([174, 174, 174]), set(200, 15))).not.toBeNull();
  });
});

describe('a drift between units', () => {
  it('looks at days on which both were logged, and allows √2 times the tolerance', () => {
    // 0.3 √2 = 0.424.
    const others = dated([6, 6, 6, 6]);
    expect(driftBetween('ph', dated([6.42, 6.42, 6.42]), others)).toBeNull();
    expect(driftBetween('ph', dated([6.43, 6.43, 6.43]), others)).toMatchObject({ days: 3 });
    expect(driftBetween('ph', dated([7, 7, 7, 7, 7]), dated([6, 6]))).toBeNull();
    expect(driftBetween('ph', dated([6.43, 6.43, 6.43]), others, 0.1)).toBeNull();
  });
});
