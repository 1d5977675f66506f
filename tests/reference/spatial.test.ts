import { describe, expect, it } from 'vitest';
import { fitAr1, fitSmooth, type MixedFit } from '../../renderer/engine/stats/mixed';
import {
  coder,
  column,
  designOf,
  factor,
  numbers,
  readJson,
  readTable,
  rowsOf,
  unit,
} from '../engine/stats/mixed/coding';

function close(found: number, expected: number, relative: number, what: string): void {
  const off = Math.abs(found - expected);
  expect(off, `${what}: ${found}, expected ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );
}

/* expected/07-checks-spatial.json: dense REML by ar1ar1() in make/lib.R; REML fits 1e-5. */
interface Ar1Figure {
  rho_row: number;
  rho_col: number;
  nugget_share: number;
  sigma2: number;
  loglik_reml: number;
  coefficients: { term: string; estimate: number; se: number }[];
}
const file = readJson('expected/07-checks-spatial.json') as {
  sets: Record<string, { figures: Record<string, { value: Ar1Figure }> }>;
};

describe.each([
  ['orchardsprays_grid', 'ar1ar1_reml', 'data/orchardsprays.csv', 'decrease', 'treatment'],
  ['wheat2', 'ar1ar1_reml', 'data/wheat2.csv', 'yield', 'variety'],
  ['wheat2', 'ar1ar1_nugget_reml', 'data/wheat2.csv', 'yield', 'variety'],
] as const)('%s %s', (set, name, path, response, treatment) => {
  it('agrees', () => {
    const expected = file.sets[set]?.figures[name]?.value;
    if (expected === undefined) throw new Error('no such figure');
    const table = readTable(path);
    const orchard = set === 'orchardsprays_grid';
    const row = numbers(table, orchard ? 'rowpos' : 'row');
    const found = fitAr1({
      x: designOf(table, coder([[factor(table, treatment)]])),
      y: numbers(table, response),
      row,
      column: numbers(table, orchard ? 'colpos' : 'col'),
      group: new Int32Array(row.length),
      denominator: 'asymptotic',
      nugget: name === 'ar1ar1_nugget_reml',
    });
    const { rowCorrelation, columnCorrelation, spatialVariance, nugget } = found.spatial;
    close(rowCorrelation, expected.rho_row, 1e-5, 'row correlation');
    close(columnCorrelation, expected.rho_col, 1e-5, 'column correlation');
    close(spatialVariance + nugget, expected.sigma2, 1e-5, 'total variance');
    close(nugget, expected.nugget_share * expected.sigma2, 1e-5, 'nugget');
    close(found.logLik, expected.loglik_reml, 1e-9, 'log-likelihood');
    expected.coefficients.forEach((line, j) => {
      const weights = new Float64Array(expected.coefficients.length);
      weights[j] = 1;
      const { estimate, se } = found.estimate(weights);
      close(se, line.se, 1e-5, `se of ${line.term}`);
      expect(Math.abs(estimate - line.estimate), line.term).toBeLessThan(1e-5 * line.se);
    });
  });
});

/* fit/beans-ar1: Besag & Kempton (1986); default 1e-3, logLik 1e-5. */
describe('beans-ar1', () => {
  it('agrees', () => {
    const { expected } = readJson('fit/beans-ar1/expected.json') as {
      expected: {
        logLik: number;
        spatial: Record<
          'rowCorrelation' | 'columnCorrelation' | 'spatialVariance' | 'nugget',
          number
        >;
        wald: { chiSquare: number; df: number };
      };
    };
    const table = readTable('fit/beans-ar1/table.csv');
    const gen = factor(table, 'gen');
    const x = designOf(table, coder([[gen]]));
    const found = fitAr1({
      x,
      y: numbers(table, 'yield'),
      row: numbers(table, 'row'),
      column: numbers(table, 'col'),
      group: new Int32Array(x.rows),
      denominator: 'asymptotic',
    });
    close(found.logLik, expected.logLik, 1e-5, 'log-likelihood');
    for (const [name, value] of Object.entries(expected.spatial)) {
      close(found.spatial[name as keyof typeof expected.spatial], value, 1e-3, name);
    }
    const data = new Float64Array((x.columns - 1) * x.columns);
    for (let i = 0; i < x.columns - 1; i++) data[i * x.columns + i + 1] = 1;
    const wald = found.test({ rows: x.columns - 1, columns: x.columns, data });
    expect(wald.kind).toBe('chi-square');
    expect(wald.df).toBe(expected.wald.df);
    close(wald.statistic, expected.wald.chiSquare, 1e-3, 'Wald');
  });
});

/*
 * expected/20-smooth.json, made by make/20-smooth.R: the same surfaces by V written out and
 * polished (`dense`) and by mgcv with the columns as penalised terms at the same variances
 * (`gam`), each with its tolerance stated in the file.
 */
interface SmoothFigure {
  dense: {
    variances: number[];
    loglik: number;
    coefficients: number[];
    se: number[];
    fitted: number[];
  };
  gam: { loglik: number; fitted: number[] } | null;
}
const smooth = readJson('expected/20-smooth.json') as { sets: Record<string, SmoothFigure> };

function smoothOf(set: 'wheat2' | 'rack_a'): MixedFit {
  if (set === 'wheat2') {
    const table = readTable('data/wheat2.csv');
    const x = designOf(table, coder([[factor(table, 'variety')]]));
    return fitSmooth({
      x,
      y: numbers(table, 'yield'),
      row: numbers(table, 'row'),
      column: numbers(table, 'col'),
      group: new Int32Array(x.rows),
      random: [],
      denominator: 'satterthwaite',
    });
  }
  const all = readTable('data/rack_a.csv');
  const table = rowsOf(all, (i) => column(all, 'status')[i] === 'alive');
  const feed = factor(table, 'feed');
  const variety = factor(table, 'variety');
  const shelf = factor(table, 'shelf');
  const letters = column(table, 'tray_id').map((tray) => tray.slice(1));
  const position = numbers(table, 'col').map(
    (col, i) => col + 4 * 'ABCD'.indexOf(letters[i] ?? ''),
  );
  return fitSmooth({
    x: designOf(table, coder([[shelf], [feed], [variety], [feed, variety]])),
    y: numbers(table, 'final_g'),
    row: numbers(table, 'row'),
    column: position,
    group: Int32Array.from(column(table, 'shelf'), Number),
    random: [unit(table, ['tray_id'])],
    denominator: 'satterthwaite',
  });
}

describe.each(['wheat2', 'rack_a'] as const)('smooth surface of %s', (set) => {
  const expected = smooth.sets[set];
  if (expected === undefined) throw new Error('no such set');
  const { dense, gam } = expected;
  const found = smoothOf(set);
  const sd = Math.sqrt(dense.variances.at(-1) ?? NaN);

  it('agrees with V written out', () => {
    expect(found.variance.length).toBe(dense.variances.length);
    found.variance.forEach(({ unit: name, variance }, k) => {
      close(variance, dense.variances[k] ?? NaN, 1e-6, name);
    });
    close(found.logLik, dense.loglik, 1e-9, 'log-likelihood');
    dense.se.forEach((se, j) => {
      const weights = new Float64Array(dense.se.length);
      weights[j] = 1;
      const one = found.estimate(weights);
      close(one.se, se, 1e-6, `se ${j}`);
      expect(Math.abs(one.estimate - (dense.coefficients[j] ?? NaN))).toBeLessThan(1e-6 * se);
    });
    dense.fitted.forEach((value, i) => {
      expect(Math.abs((found.fitted[i] ?? NaN) - value)).toBeLessThan(1e-6 * sd);
    });
  });

  if (gam === null) return;
  it('agrees with the penalised regression', () => {
    close(found.logLik, gam.loglik, 1e-9, 'log-likelihood');
    gam.fitted.forEach((value, i) => {
      expect(Math.abs((found.fitted[i] ?? NaN) - value)).toBeLessThan(1e-6 * sd);
    });
  });
});

/*
 * expected/21-ar1-small-sample.json, made by make/21-ar1-small-sample.R from numerical
 * derivatives (Satterthwaite) and the formulas of Kenward & Roger (1997) written out.
 */
interface SmallSample {
  se: number[];
  df: number[];
  test: { df2: number; F: number };
}
const small = readJson('expected/21-ar1-small-sample.json') as {
  sets: Record<
    string,
    { parameters: number[]; loglik: number; satterthwaite: SmallSample; kenward_roger: SmallSample }
  >;
};

describe.each([
  ['beans', 'fit/beans-ar1/table.csv', 'gen'],
  ['wheat2', 'data/wheat2.csv', 'variety'],
] as const)('small-sample degrees of freedom of %s', (set, path, treatment) => {
  it.each([
    ['satterthwaite', 'satterthwaite', 1e-4],
    ['kenward-roger', 'kenward_roger', 1e-5],
  ] as const)('%s', (denominator, key, tolerance) => {
    const expected = small.sets[set];
    if (expected === undefined) throw new Error('no such set');
    const table = readTable(path);
    const x = designOf(table, coder([[factor(table, treatment)]]));
    const found = fitAr1({
      x,
      y: numbers(table, 'yield'),
      row: numbers(table, 'row'),
      column: numbers(table, 'col'),
      group: new Int32Array(x.rows),
      denominator,
    });
    const { spatialVariance, rowCorrelation, columnCorrelation, nugget } = found.spatial;
    [spatialVariance, rowCorrelation, columnCorrelation, nugget].forEach((value, k) => {
      close(value, expected.parameters[k] ?? NaN, 1e-6, `parameter ${k}`);
    });
    close(found.logLik, expected.loglik, 1e-9, 'log-likelihood');
    expected[key].se.forEach((se, j) => {
      const weights = new Float64Array(x.columns);
      weights[j] = 1;
      const one = found.estimate(weights);
      close(one.se, se, 1e-6, `se ${j}`);
      close(one.df, expected[key].df[j] ?? NaN, tolerance, `df ${j}`);
    });
    const q = x.columns - 1;
    const data = new Float64Array(q * x.columns);
    for (let i = 0; i < q; i++) data[i * x.columns + i + 1] = 1;
    const test = found.test({ rows: q, columns: x.columns, data });
    close(test.statistic, expected[key].test.F, 1e-6, 'F');
    close(test.dfError, expected[key].test.df2, tolerance, 'df of F');
  });
});
