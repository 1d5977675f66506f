import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import { orthogonalPolynomials } from '../../renderer/engine/stats/comparisons';
import { influence } from '../../renderer/engine/stats/checks';
import { fit } from '../../renderer/engine/stats/fit';
import { expectClose, figure, readCsv, readSets, type Row } from './figures';

// Expected values: tests/reference/expected (made as its README says).

describe('planned contrasts and trends', () => {
  const sets = readSets('02-anova-balanced');
  const table = readCsv('data/toothgrowth.csv', ['supp', 'dose']);
  const doses = [0.5, 1, 2];

  it('give the recorded polynomial contrasts of dose, t and p', () => {
    const wanted = figure<Row[]>(sets, 'toothgrowth', 'polynomial_contrasts_dose');
    // The recorded weights treat the doses as equal steps: −1 0 1 and 1 −2 1.
    const equal = [1, 2, 3];
    const contrasts = orthogonalPolynomials(equal, 2).map((weights, d) => ({
      name: String(d + 1),
      of: 'dose',
      weights: Object.fromEntries(doses.map((dose, i) => [String(dose), weights[i] ?? 0])),
    }));
    const result = fit(
      fitRequestSchema.parse({ response: 'len', treatments: ['supp', 'dose'], contrasts }),
      table,
    );
    expect(result.contrasts).toHaveLength(2);
    result.contrasts.forEach((row, i) => {
      const want = wanted[i];
      // Ours is per step and per squared step: divided by Σ w x of the integers, 2 in both.
      expectClose(row.estimate * 2, want?.['estimate'], 1e-9, `contrast ${i} estimate`);
      expectClose(row.se * 2, want?.['se'], 1e-9, `contrast ${i} se`);
      expectClose(row.df, want?.['df'], 1e-9, `contrast ${i} df`);
      expectClose(row.statistic, want?.['t'], 1e-9, `contrast ${i} t`);
      expectClose(row.p, want?.['p'], 1e-7, `contrast ${i} p`);
    });
  });

  it('add up: the squares of a full set are the sum of squares of the term', () => {
    const contrasts = orthogonalPolynomials(doses, 2).map((weights, d) => ({
      name: String(d + 1),
      of: 'dose',
      weights: Object.fromEntries(doses.map((dose, i) => [String(dose), weights[i] ?? 0])),
    }));
    const result = fit(
      fitRequestSchema.parse({ response: 'len', treatments: ['supp', 'dose'], contrasts }),
      table,
    );
    const squares = result.contrasts.reduce((sum, row) => sum + row.statistic ** 2, 0);
    const anova = figure<Row[]>(sets, 'toothgrowth', 'anova');
    const dose = anova.find((row) => row['term'] === 'dose');
    expectClose(squares / 2, dose?.['F'], 1e-9, 'mean of t² and F of dose');
  });

  it('refuse weights that do not add up to zero, and strange levels', () => {
    const ask = (weights: Record<string, number>) => () =>
      fit(
        fitRequestSchema.parse({
          response: 'len',
          treatments: ['supp', 'dose'],
          contrasts: [{ name: 'c', of: 'dose', weights }],
        }),
        table,
      );
    expect(ask({ '0.5': 1, '1': 1 })).toThrow(/weights sum to 2; expected 0/);
    expect(ask({ '0.5': 1, '4': -1 })).toThrow(/level "4" of dose; expected one of 0\.5, 1, 2/);
  });
});

describe('influence of single rows', () => {
  const sets = readSets('07-checks-spatial');
  it.each([
    ['plantgrowth_checks', 'data/plantgrowth.csv', 'weight', ['group']],
    ['insectsprays_checks', 'data/insectsprays.csv', 'count', ['spray']],
    ['toothgrowth_checks', 'data/toothgrowth.csv', 'len', ['supp', 'dose']],
  ])('is as recorded for %s', (set, file, response, treatments) => {
    const result = fit(fitRequestSchema.parse({ response, treatments }), readCsv(file, treatments));
    const found = influence(
      result.rows.map((row) => row.residual),
      result.rows.map((row) => row.leverage ?? Number.NaN),
      result.coefficients.length,
      result.residual?.df ?? Number.NaN,
    );
    const studentised = figure<number[]>(sets, set, 'studentised_deleted');
    const cook = figure<number[]>(sets, set, 'cooks_distance');
    expect(found).toHaveLength(cook.length);
    found.forEach((row, i) => {
      expectClose(row.studentised, studentised[i], 1e-8, `studentised residual ${i}`, 1e-10);
      expectClose(row.cook, cook[i], 1e-8, `Cook's distance ${i}`, 1e-12);
    });
  });
});

describe('the full likelihood at the estimates', () => {
  // log N(y; Xβ̂, V̂) worked out with a dense V from the recorded variances: an independent route.
  it('is the normal density of the oats under the recorded variances', () => {
    const table = readCsv('data/oats.csv', ['Block', 'Variety', 'nitro']);
    const result = fit(
      fitRequestSchema.parse({
        response: 'yield',
        treatments: ['Variety', 'nitro'],
        randomUnits: [['Block'], ['Block', 'Variety']],
        tests: 'marginal',
      }),
      table,
    );
    const recorded = figure<Record<string, unknown>>(
      readSets('04-strata-mixed'),
      'oats',
      'reml_variances',
    );
    expect(JSON.stringify(recorded)).toContain('177.08');
    const [block = 0, plot = 0, residual = 0] = ['Block', 'Block × Variety', 'residual'].map(
      (unit) => result.variance.find((row) => row.unit === unit)?.variance,
    );
    expect(residual).toBeCloseTo(177.0833, 3);
    const blocks = table.columns['Block'] ?? [];
    const varieties = table.columns['Variety'] ?? [];
    // Balanced: fitted values of the fixed part are cell means.
    const nitro = table.columns['nitro'] ?? [];
    const yields = (table.columns['yield'] ?? []).map(Number);
    const cell = (i: number) => `${String(varieties[i])} ${String(nitro[i])}`;
    const r = yields.map((y, i) => {
      const own = yields.filter((_, j) => cell(j) === cell(i));
      return y - own.reduce((sum, v) => sum + v, 0) / own.length;
    });
    const n = r.length;
    const v = r.map((_, i) =>
      r.map(
        (__, j) =>
          (blocks[i] === blocks[j] ? block : 0) +
          (blocks[i] === blocks[j] && varieties[i] === varieties[j] ? plot : 0) +
          (i === j ? residual : 0),
      ),
    );
    const logLik = logDensity(v, r);
    expect(result.information?.logLik).toBeCloseTo(logLik, 5);
    // Twelve means and three variances.
    expect(result.information?.parameters).toBe(15);
    expect(result.information?.aic).toBeCloseTo(-2 * logLik + 30, 5);
    expect(n).toBe(72);
  });

  it('counts the trends of a smooth surface: without curvature it is least squares on planes', () => {
    // Values on a plane and noise that jumps from pot to pot: both routes must then agree.
    const noise = [3, 1, 2, 4, 1, 2, 2, 4, 3, 1, 1, 2, 2, 2, 3, 3, 2, 1, 1, 1];
    const rows = noise.map((e, i) => {
      const [row, column] = [Math.floor(i / 5) + 1, (i % 5) + 1];
      const treatment = 'ab'.charAt(Math.floor(column / 2 + row) % 2);
      return {
        row,
        column,
        treatment,
        y: 20 + row - 0.5 * column + 0.05 * e * ((row + column) % 2 ? 1 : -1),
      };
    });
    const of = (name: 'row' | 'column' | 'treatment' | 'y') => rows.map((r) => r[name]);
    const table = {
      rowCount: rows.length,
      columns: {
        row: of('row'),
        column: of('column'),
        treatment: of('treatment'),
        y: of('y'),
        twist: rows.map((r) => (r.row - 2.5) * (r.column - 3)),
      },
    };
    const smooth = fit(
      fitRequestSchema.parse({
        response: 'y',
        treatments: ['treatment'],
        position: { row: 'row', column: 'column', model: 'smooth' },
      }),
      table,
    );
    const planes = fit(
      fitRequestSchema.parse({
        response: 'y',
        treatments: ['treatment'],
        covariates: ['row', 'column', 'twist'],
      }),
      table,
    );
    const curved = smooth.variance.filter((v) => v.unit !== 'residual');
    for (const { variance } of curved) expect(variance).toBeLessThan(1e-8);
    expect(smooth.information?.logLik).toBeCloseTo(planes.information?.logLik ?? Number.NaN, 5);
    expect(smooth.information?.parameters).toBe(
      (planes.information?.parameters ?? 0) + curved.length,
    );
  });

  it('is on the same footing for least squares: a unit without variance changes nothing', () => {
    const table = readCsv('data/zero_variance.csv', ['tray', 'trt']);
    const plain = fit(fitRequestSchema.parse({ response: 'y', treatments: ['trt'] }), table);
    const mixed = fit(
      fitRequestSchema.parse({ response: 'y', treatments: ['trt'], randomUnits: [['tray']] }),
      table,
    );
    expect(mixed.variance[0]?.variance).toBeCloseTo(0, 9);
    expect(mixed.information?.logLik).toBeCloseTo(plain.information?.logLik ?? Number.NaN, 6);
    expect(mixed.information?.parameters).toBe((plain.information?.parameters ?? 0) + 1);
  });
});

/** log N(r; 0, V) by Cholesky. */
function logDensity(v: number[][], r: number[]): number {
  const n = r.length;
  const l = v.map((row) => row.map(() => 0));
  let log = 0;
  const z: number[] = [];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = v[i]?.[j] ?? 0;
      for (let k = 0; k < j; k++) sum -= (l[i]?.[k] ?? 0) * (l[j]?.[k] ?? 0);
      const row = l[i];
      if (row) row[j] = i === j ? Math.sqrt(sum) : sum / (l[j]?.[j] ?? 1);
    }
    const pivot = l[i]?.[i] ?? 1;
    log += 2 * Math.log(pivot);
    let rest = r[i] ?? 0;
    for (let k = 0; k < i; k++) rest -= (l[i]?.[k] ?? 0) * (z[k] ?? 0);
    z.push(rest / pivot);
  }
  return -0.5 * (n * Math.log(2 * Math.PI) + log + z.reduce((sum, value) => sum + value ** 2, 0));
}
