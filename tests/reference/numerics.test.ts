import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import { buildDesign } from '../../renderer/engine/stats/design';
import { termDirections } from '../../renderer/engine/stats/hypotheses';
import { dot, fitLinear, mean } from '../../renderer/engine/stats/linear';
import type { Matrix } from '../../renderer/engine/stats/model';
import { expectClose, figure, readCsv, readSets } from './figures';

// Source: NIST Statistical Reference Datasets, tests/reference/expected/09-numerics.json.
const sets = readSets('09-numerics');

function numbers(path: string, name: string): number[] {
  const cells = readCsv(path).columns[name];
  if (!cells) throw new Error(`no column ${name} in ${path}`);
  return cells.map(Number);
}

function columnsOf(columns: number[][]): Matrix {
  const rows = columns[0]?.length ?? 0;
  const data = Float64Array.from({ length: rows * columns.length }, (_, k) =>
    Number(columns[k % columns.length]?.[Math.floor(k / columns.length)]),
  );
  return { rows, columns: columns.length, data };
}

const digits = (got: number, want: number): number =>
  -Math.log10(Math.max(Math.abs(got - want) / Math.abs(want), 1e-16));

describe('certified regressions', () => {
  it('reaches 12 digits on Longley', () => {
    const x = ['x1', 'x2', 'x3', 'x4', 'x5', 'x6'].map((name) => numbers('data/longley.csv', name));
    const y = Float64Array.from(numbers('data/longley.csv', 'y'));
    const fit = fitLinear(columnsOf([x[0]?.map(() => 1) ?? [], ...x]), y);
    const certified = figure<{
      coefficients: Record<string, [number, number]>;
      residual_sd: number;
    }>(sets, 'longley', 'certified');
    Object.values(certified.coefficients).forEach(([estimate, se], j) => {
      const weights = new Float64Array(7);
      weights[j] = 1;
      const got = fit.estimate(weights);
      expect(digits(got.estimate, estimate)).toBeGreaterThan(12);
      expect(digits(got.se, se)).toBeGreaterThan(10);
    });
    expectClose(Math.sqrt(fit.residual.ms), certified.residual_sd, 1e-12, 'residual sd');
  });

  it.each(['wampler1', 'wampler3', 'wampler5'])('reaches 12 digits on %s', (name) => {
    const x = numbers(`data/${name}.csv`, 'x');
    const y = Float64Array.from(numbers(`data/${name}.csv`, 'y'));
    const fit = fitLinear(columnsOf([0, 1, 2, 3, 4, 5].map((k) => x.map((v) => v ** k))), y);
    const certified = figure<{ coefficients: number[]; se?: number[]; residual_sd: number }>(
      sets,
      name,
      'certified',
    );
    certified.coefficients.forEach((estimate, j) => {
      expect(digits(fit.coefficients[j] ?? NaN, estimate)).toBeGreaterThan(12);
      const se = certified.se?.[j];
      const weights = new Float64Array(6);
      weights[j] = 1;
      if (se !== undefined) expect(digits(fit.estimate(weights).se, se)).toBeGreaterThan(10);
    });
    expectClose(Math.sqrt(fit.residual.ms), certified.residual_sd, 1e-10, name, 1e-8);
  });
});

describe('certified analyses of variance', () => {
  const request = fitRequestSchema.parse({ response: 'y', treatments: ['treatment'] });
  it.each([
    ['smls01', 13],
    ['smls04', 9],
    ['smls07', 3],
    ['sirstv', 10],
  ])('reaches on %s at least %d digits', (name, least) => {
    const design = buildDesign(request, readCsv(`data/${name}.csv`, ['treatment']));
    const fit = fitLinear(design.x, design.y);
    const centre = mean(design.y);
    const deviations = design.y.map((value) => value - centre);
    const directions = termDirections(design, 'sequential')[0] ?? [];
    const ss = directions.reduce((sum, z) => sum + dot(z, deviations) ** 2, 0);
    const certified = figure<{
      between: { df: number; ms: number; F: number };
      within: { df: number; ms: number };
    }>(sets, name, 'certified');
    expect(directions).toHaveLength(certified.between.df);
    expect(fit.residual.df).toBe(certified.within.df);
    expect(digits(ss / certified.between.df, certified.between.ms)).toBeGreaterThan(least);
    expect(digits(fit.residual.ms, certified.within.ms)).toBeGreaterThan(least);
    const f = ss / certified.between.df / fit.residual.ms;
    expect(digits(f, certified.between.F)).toBeGreaterThan(least);
  });
});
