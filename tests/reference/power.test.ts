import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  detectableDifference,
  detectableNoncentrality,
  firstReaching,
  power,
  powerCurve,
  powerForDifference,
  powerOfTerm,
} from '../../renderer/engine/trial/power';
import { powerRequestSchema, type PowerRequestInput } from '../../shared-types/power';

/**
 * Sources: expected/08-power.json (R's power.t.test and power.anova.test, and the formulae stated
 * there integrated exactly) and trade-facts.md, section 7.10 (Cohen 1988).
 */
const { figures } = (
  JSON.parse(readFileSync(new URL('./expected/08-power.json', import.meta.url), 'utf8')) as {
    sets: { cases: { figures: Record<string, { value: unknown }> } };
  }
).sets.cases;

function figure(name: string): number {
  const value = figures[name]?.value;
  if (typeof value !== 'number') throw new Error(`no figure ${name}`);
  return value;
}
function parts(name: string): Record<string, number> {
  return figures[name]?.value as Record<string, number>;
}
const near = (
  got: number | null | undefined,
  expected: number | undefined,
  relative = 1e-9,
): void => {
  if (typeof got !== 'number' || expected === undefined) throw new Error('a figure is missing');
  expect(Math.abs(got / expected - 1), `${got} against ${expected}`).toBeLessThan(relative);
};
const ask = (request: PowerRequestInput): ReturnType<typeof power> =>
  power(powerRequestSchema.parse(request));

describe('power of given units', () => {
  it('two groups: the two-sided t test', () => {
    const { power: got } = ask({
      treatments: { feed: 2 },
      unitsPerCell: 10,
      sd: 1,
      means: [0, 1.2],
    });
    near(got, figure('t_test_power_exact'));
  });

  it('one-way', () => {
    // Variance of the means with divisor k − 1 is 1: ±a, ±a with 4a²/3 = 1.
    const a = Math.sqrt(0.75);
    const got = ask({
      treatments: { feed: 4 },
      unitsPerCell: 6,
      sd: Math.sqrt(3),
      means: [a, -a, -a, a],
    });
    near(got.power, figure('one_way_power_exact'));
    expect(got).toMatchObject({ dfError: 20, units: 24, cells: 4 });
  });

  const alpha = [-0.6, 0.6];
  const beta = [-1, 0.2, 0.8];
  const both = [
    [0.5, -0.2, -0.3],
    [-0.5, 0.2, 0.3],
  ];
  const means = alpha.map((a, i) => beta.map((b, j) => 20 + a + b + (both[i]?.[j] ?? NaN)));
  const factorial = { treatments: { light: 2, medium: 3 }, unitsPerCell: 8, sd: 2, means };

  it('factorial: each main effect and the interaction', () => {
    const { terms } = ask(factorial);
    expect(terms.map((row) => row.term)).toEqual(['light', 'medium', 'light × medium']);
    near(terms[0]?.power, parts('factorial_2x3')['A']);
    near(terms[1]?.power, parts('factorial_2x3')['B']);
    near(terms[2]?.power, parts('factorial_2x3')['AB']);
  });

  it('complete blocks take degrees of freedom', () => {
    const { terms, dfError } = ask({ ...factorial, blocks: 8 });
    expect(dfError).toBe(35);
    near(terms[0]?.power, parts('blocks_2x3')['A']);
    near(terms[1]?.power, parts('blocks_2x3')['B']);
    expect(ask({ ...factorial, blocks: 'one-per-replicate' }).terms).toEqual(terms);
  });

  it('effect sizes of the worked examples', () => {
    const one = (levels: number, n: number, f: number, blocks = 1): number =>
      ask({ treatments: { feed: levels }, unitsPerCell: n, effect: { f, of: 'feed' }, blocks })
        .power;
    near(one(4, 20, 0.28), 0.514979292);
    near(one(4, 45, 0.25), 0.8039869129);
    near(one(4, 6, 0.4), 0.2892128494);
    near(one(4, 6, 0.4, 6), 0.2734025176);
  });

  it('factors on different units, term by term', () => {
    // Six blocks of two tray treatments, 12 plants a tray, plant variance 3.6, tray variance 2.5.
    const [r, m] = [6, 12];
    near(
      powerOfTerm({
        dfEffect: 1,
        dfError: r - 1,
        noncentrality: (r * m * 4.5) / (3.6 + m * 2.5),
        alpha: 0.05,
      }),
      parts('split_units')['main'],
    );
    near(
      powerOfTerm({
        dfEffect: 2,
        dfError: 2 * (r * m - 3) - (r - 1) * 2,
        noncentrality: (((r * 2 * m) / 3) * 2) / 3.6,
        alpha: 0.05,
      }),
      parts('split_units')['sub'],
    );
  });
});

describe('units for a given power', () => {
  it('one-way', () => {
    const expected = parts('one_way_whole_n');
    // Variance of three means 2 (divisor 2): −√2, 0, √2.
    const got = ask({
      treatments: { feed: 3 },
      sd: 3,
      means: [-Math.SQRT2, 0, Math.SQRT2],
      solve: 'units',
      power: 0.8,
    });
    expect(got.unitsPerCell).toBe(expected['n']);
    near(got.power, expected['power']);
    const fewer = ask({
      treatments: { feed: 3 },
      sd: 3,
      means: [-Math.SQRT2, 0, Math.SQRT2],
      unitsPerCell: got.unitsPerCell - 1,
    });
    near(fewer.power, expected['power_one_fewer']);
  });

  it('two groups: whole units above the fractional ones', () => {
    const got = ask({
      treatments: { feed: 2 },
      sd: 1.3,
      means: [0, 1],
      solve: 'units',
      power: 0.9,
    });
    expect(got.unitsPerCell).toBe(Math.ceil(figure('t_test_n')));
  });

  it.each([
    [0.25, [64, 53, 45, 40, 36, 30], null],
    [0.4, [26, 22, 19, 16, 15, 13], [22, 19, 15]],
    [0.6, [12, 10, 9, 8, 7, 6], [11, 9, 8]],
    [0.8, [8, 7, 6, 5, 5, 4], [7, 6, 5]],
    [1.0, [6, 5, 4, 4, 4, 3], [5, 5, 4]],
  ] as const)('table of least n, f %d', (f, free, blocked) => {
    const least = (levels: number, blocks: 1 | 'one-per-replicate'): number =>
      ask({
        treatments: { feed: levels },
        effect: { f, of: 'feed' },
        solve: 'units',
        power: 0.8,
        blocks,
      }).unitsPerCell;
    expect([2, 3, 4, 5, 6, 8].map((levels) => least(levels, 1))).toEqual(free);
    if (blocked) {
      expect([3, 4, 6].map((levels) => least(levels, 'one-per-replicate'))).toEqual(blocked);
    }
  });

  it.each([
    [0.5, 64, 0.8014595579],
    [0.8, 26, 0.8074866151],
    [1, 17, 0.8070367151],
    [1.2, 12, 0.8020787918],
    [1.5, 9, 0.8476101042],
    [2, 6, 0.8764177714],
  ])('two groups %d SDs apart', (d, n, reached) => {
    const got = ask({
      treatments: { feed: 2 },
      sd: 1,
      means: [0, d],
      solve: 'units',
      power: 0.8,
    });
    expect(got.unitsPerCell).toBe(n);
    near(got.power, reached);
  });
});

describe('smallest detectable difference', () => {
  it('four groups of ten', () => {
    const got = ask({
      treatments: { feed: 4 },
      unitsPerCell: 10,
      sd: 1,
      solve: 'difference',
      power: 0.9,
    });
    near(got.terms[0]?.difference, parts('detectable_difference')['delta_over_sd']);
    near(got.terms[0]?.power, 0.9);
  });

  it('two groups: the t test', () => {
    const got = ask({
      treatments: { feed: 2 },
      unitsPerCell: 15,
      sd: 2,
      solve: 'difference',
      power: 0.8,
    });
    near(got.terms[0]?.difference, figure('t_test_delta'), 1e-8);
  });

  it('paired units are blocks of two', () => {
    // The fractional number of pairs at which difference 0.7 of the SD of a difference is found
    // with power 0.8: noncentrality n d² on 1 and n − 1.
    const n = figure('t_test_paired_n');
    near(
      detectableNoncentrality({ dfEffect: 1, dfError: n - 1, alpha: 0.05, power: 0.8 }),
      n * 0.49,
      1e-8,
    );
  });
});

describe('a factor on trays', () => {
  // Two tray treatments ± 1.5 g, 12 plants a tray, plant variance 3.6, tray variance 2.5.
  const trays = { potsPerUnit: 12, plantSd: Math.sqrt(3.6), unitSd: Math.sqrt(2.5), alpha: 0.05 };

  it('six blocks', () => {
    const six = { ...trays, unitsPerLevel: [6, 6], dfError: 5 };
    near(powerForDifference(six, 3), parts('split_units')['main']);
    near(detectableDifference(six, parts('split_units')['main'] ?? NaN), 3);
  });

  it('blocks needed', () => {
    const expected = parts('split_units_blocks_needed');
    const curve = powerCurve({ ...trays, levels: 2 }, 3, (blocks) => blocks - 1, 12);
    const first = firstReaching(curve, 0.8);
    expect(first?.unitsPerLevel).toBe(expected['r']);
    near(first?.power, expected['power']);
    near(curve[(expected['r'] ?? 0) - 2]?.power, expected['power_one_fewer']);
    expect(curve[0]).toEqual({ unitsPerLevel: 1, dfError: 0, power: null });
  });

  it('pots as units, four groups of ten', () => {
    const pots = {
      unitsPerLevel: [10, 10, 10, 10],
      potsPerUnit: 1,
      dfError: 36,
      plantSd: 1,
      unitSd: 0,
      alpha: 0.05,
    };
    near(detectableDifference(pots, 0.9), parts('detectable_difference')['delta_over_sd']);
  });
});
