import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as growth from '../../renderer/engine/growth';

/** Sources: expected/10-growth.json; trade-facts.md, section 6 (Hunt 1982; Hoffmann & Poorter 2002). */
interface Index {
  w1: number;
  w2: number;
  t1: number;
  t2: number;
  absolute_growth_rate: number;
  relative_growth_rate: number;
  doubling_time: number;
  percent_gain: number;
}
const { figures } = (
  JSON.parse(readFileSync(new URL('./expected/10-growth.json', import.meta.url), 'utf8')) as {
    sets: {
      cases: {
        figures: {
          indices: { value: Index[] };
          group_mean_of_logs: { value: { mean_of_logs: number } };
          regression_rgr: { value: { estimate: number; se: number }[] };
          leaf_figures: { value: Record<string, number> };
        };
      };
    };
  }
).sets.cases;

const near = (got: number | null, expected: number | undefined, relative = 1e-12): void => {
  if (got === null || expected === undefined) throw new Error('a figure is missing');
  expect(Math.abs(got / expected - 1), `${got} against ${expected}`).toBeLessThan(relative);
};

describe('growth indices of a plant', () => {
  it.each(figures.indices.value)('$w1 to $w2 g', (row) => {
    const plant = { start: row.w1, end: row.w2, days: row.t2 - row.t1 };
    near(growth.absoluteGrowthRate(plant), row.absolute_growth_rate);
    const rate = growth.relativeGrowthRate(plant);
    near(rate, row.relative_growth_rate);
    near(growth.doublingTimeDays(rate), row.doubling_time);
    near(growth.percentGain(plant), row.percent_gain);
  });

  it('worked example of the trade facts', () => {
    const plant = { start: 1, end: 4, days: 14 };
    near(growth.absoluteGrowthRate(plant), 0.2142857143, 1e-9);
    near(growth.relativeGrowthRate(plant), 0.09902102579, 1e-9);
    near(growth.doublingTimeDays(growth.relativeGrowthRate(plant)), 7);
  });
});

describe('relative growth rate of a group', () => {
  it('is taken from the mean of the logarithms', () => {
    const [w1, w2] = [
      [1.2, 1.5, 0.9, 1.8],
      [5.1, 7.7, 3.2, 9.9],
    ];
    const expected = figures.group_mean_of_logs.value.mean_of_logs;
    near(growth.groupRelativeGrowthRate(w1, w2, 14).rate, expected);
    const plants = w1.map((start, i) => ({ start, end: w2[i] ?? NaN, days: 14 }));
    near(growth.meanRelativeGrowthRate(plants).rate, expected);
  });

  it('with the standard error of two separate harvests', () => {
    const got = growth.groupRelativeGrowthRate([0.8, 1, 1.2], [2, 4, 8], 14);
    near(got.rate, 0.09999297804, 1e-9);
    near(got.se, 0.02978643861, 1e-9);
  });

  it('fitted over several dates', () => {
    const [, slope] = figures.regression_rgr.value;
    const got = growth.fittedRelativeGrowthRate([0, 7, 14, 21, 28], [2.1, 3.4, 5.2, 8.9, 13.6]);
    near(got.rate, slope?.estimate);
    near(got.se, slope?.se);
  });
});

describe('leaf figures', () => {
  it('leaf area ratio, net assimilation rate, phyllochron', () => {
    const expected = figures.leaf_figures.value;
    near(growth.leafAreaRatio(240, 3.1), expected['leaf_area_ratio']);
    near(
      growth.netAssimilationRate({ mass: 1.4, leafArea: 110 }, { mass: 3.1, leafArea: 240 }, 14),
      expected['net_assimilation_rate'],
    );
    near(growth.phyllochronDays(6, 11, 14), expected['phyllochron']);
  });

  it('worked examples of the trade facts', () => {
    near(
      growth.netAssimilationRate({ mass: 1, leafArea: 0.02 }, { mass: 4, leafArea: 0.07 }, 10),
      7.516577811,
      1e-9,
    );
    near(growth.plastochronIndex(6, 14, 8), 6.601255797, 1e-9);
  });
});
