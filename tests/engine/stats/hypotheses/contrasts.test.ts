import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import type { DataTable } from '../../../../shared-types/fit';
import { buildDesign, designMatrix } from '../../../../renderer/engine/stats/design';
import {
  termColumnSets,
  termContrasts,
  termDirections,
} from '../../../../renderer/engine/stats/hypotheses';
import { dot, fitLinear, mean, selectColumns } from '../../../../renderer/engine/stats/linear';

const n = 48;

function trial(noise: readonly number[], keep: readonly boolean[]): DataTable {
  const cells = Array.from({ length: n }, (_, i) => i);
  return {
    rowCount: n,
    columns: {
      block: cells.map((i) => `b${Math.floor(i / 24)}`),
      feed: cells.map((i) => ['hi', 'lo', 'mid'][i % 3] ?? ''),
      light: cells.map((i) => ['off', 'on'][Math.floor(i / 3) % 2] ?? ''),
      start: cells.map((i) => 3 + ((i * 17) % 23) / 5 + (noise[(i * 5) % n] ?? 0) / 10),
      y: cells.map((i) => (keep[i] === false ? null : 20 + (noise[i] ?? 0) + Math.sin(i * 3.7))),
    },
  };
}

const request = (tests: string) =>
  fitRequestSchema.parse({
    response: 'y',
    treatments: ['light', 'feed'],
    covariates: ['start'],
    covariateInteractions: [['start', 'feed']],
    fixedBlocks: ['block'],
    tests,
  });

// Three roads to one sum of squares: the projection of the response on the directions, the
// difference of the residual sums of squares of two models (the definition), and the quadratic
// form of the contrasts of the coefficients.
describe.each(['sequential', 'adjusted', 'marginal'] as const)('%s tests', (order) => {
  it('are the same by projection, by comparing models and by contrasts', () => {
    const noise = fc.array(fc.double({ min: -5, max: 5, noNaN: true }), {
      minLength: n,
      maxLength: n,
    });
    const keep = fc.array(
      fc.integer({ min: 0, max: 9 }).map((k) => k > 0),
      { minLength: n, maxLength: n },
    );
    fc.assert(
      fc.property(noise, keep, (values, kept) => {
        const design = buildDesign(request(order), trial(values, kept));
        const fit = fitLinear(design.x, design.y);
        if (fit.qr.aliased.length > 0) return;
        const centre = mean(design.y);
        const deviations = design.y.map((value) => value - centre);
        const directions = termDirections(design, order);
        const contrasts = termContrasts(design, order);
        termColumnSets(design, order).forEach(({ x, before, own }, t) => {
          const df = own.length;
          const without = fitLinear(selectColumns(x, before), design.y).residual.ss;
          const full = fitLinear(selectColumns(x, [...before, ...own]), design.y).residual.ss;
          const projected = (directions[t] ?? []).reduce(
            (sum, z) => sum + dot(z, deviations) ** 2,
            0,
          );
          const want = without - full;
          const scale = 1e-9 * (without + 1);
          expect(Math.abs(projected - want)).toBeLessThan(scale);
          const matrix = contrasts[t];
          if (!matrix) throw new Error('no contrasts');
          const test = fit.test(matrix);
          expect(test.df).toBe(df);
          expect(Math.abs(test.statistic * df * fit.residual.ms - want)).toBeLessThan(10 * scale);
        });
      }),
      { numRuns: 40, seed: 3 },
    );
  });
});

it('spans the same space in either coding', () => {
  const design = buildDesign(request('marginal'), trial(new Array(n).fill(0.3), []));
  const sum = fitLinear(designMatrix(design, design.x.rows, 'sum'), design.y);
  const reference = fitLinear(design.x, design.y);
  expect(Math.abs(sum.residual.ss - reference.residual.ss)).toBeLessThan(1e-10);
});
