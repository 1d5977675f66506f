import { describe, expect, it } from 'vitest';
import { meanUnitSize, unitVarianceUpper } from '../../../../renderer/engine/trial/power';
import { stream } from '../../../../renderer/engine/trial/stream';

describe('the upper limit of the variance between units', () => {
  // R 4.2.2: dfU * (msU - qf(0.05, dfU, dfW) * msW) / (n * qchisq(0.05, dfU)). The first line: calcium
  // in turnip leaves, Snedecor & Cochran 1989, Statistical Methods, 13.3.
  it.each([
    [{ msUnits: 0.2961, dfUnits: 3, msWithin: 0.0066, dfWithin: 12, perUnit: 4 }, 0.629561623442],
    [{ msUnits: 1.1, dfUnits: 5, msWithin: 1.3, dfWithin: 30, perUnit: 6 }, 0.589882449416],
    [{ msUnits: 0.9, dfUnits: 2, msWithin: 1, dfWithin: 198, perUnit: 12 }, 1.37882450582],
  ])('is as R gives it: %j', (lines, upper) => {
    expect(unitVarianceUpper(lines)).toBeCloseTo(upper, 9);
  });

  it('lies above the true variance as often as it claims', () => {
    const random = stream('limit', 'units');
    const [units, pots, runs] = [4, 6, 1500];
    const squares = (n: number) =>
      Array.from({ length: n }, () => random.normal() ** 2).reduce((sum, z) => sum + z, 0);
    for (const between of [0.2, 1]) {
      let held = 0;
      for (let run = 0; run < runs; run++) {
        const msUnits = ((1 + pots * between) * squares(units - 1)) / (units - 1);
        const dfWithin = units * (pots - 1);
        const msWithin = squares(dfWithin) / dfWithin;
        const lines = { msUnits, dfUnits: units - 1, msWithin, dfWithin, perUnit: pots };
        if (unitVarianceUpper(lines) >= between) held++;
      }
      // 95 %, less three standard errors of 1500 runs.
      expect(held / runs).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / runs));
    }
  });

  it('needs df, and counts unequal units by n₀', () => {
    const none = { msUnits: 1, dfUnits: 0, msWithin: 1, dfWithin: 5, perUnit: 4 };
    expect(() => unitVarianceUpper(none)).toThrow('found 0 and 5 df');
    expect(meanUnitSize([4, 4, 4])).toBe(4);
    expect(meanUnitSize([2, 4])).toBeCloseTo(6 - 20 / 6, 12);
  });
});
