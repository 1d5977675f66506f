import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import type { DataTable, FitRequest } from '../../shared-types/fit';
import { devianceTest, fitCounts } from '../../renderer/engine/stats/counts';
import type { CountsKind } from '../../renderer/engine/stats/counts';
import { buildDesign } from '../../renderer/engine/stats/design';
import type { Design } from '../../renderer/engine/stats/design';
import { fit } from '../../renderer/engine/stats/fit';
import { termColumnSets } from '../../renderer/engine/stats/hypotheses';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectMeans, expectPairs } from './compare';
import { expectClose, figure, readCsv, readSets } from './figures';
import type { Row } from './figures';

// Source: tests/reference/expected/06-counts.json. Its models were iterated to 1e-14.
const sets = readSets('06-counts');

const requests: Record<string, object> = {
  insectsprays: { response: 'count', treatments: ['spray'] },
  quine: { response: 'Days', treatments: ['Eth', 'Sex', 'Age', 'Lrn'], interactions: 'none' },
  insurance: {
    response: 'Claims',
    treatments: ['District', 'Group', 'Age'],
    interactions: 'none',
  },
};

function setUp(set: string, tests: FitRequest['tests'] = 'adjusted') {
  const request = fitRequestSchema.parse({ counts: 'poisson', tests, ...requests[set] });
  const table: DataTable = readCsv(sets[set]?.file ?? '', categoryColumns(request));
  const design = buildDesign(request, table);
  const holders = table.columns['Holders'];
  const input = {
    x: design.x,
    y: design.y,
    ...(holders ? { offset: Float64Array.from(holders, (cell) => Math.log(Number(cell))) } : {}),
  };
  return { request, table, design, input };
}

const rows = (set: string, name: string): Row[] => figure<Row[]>(sets, set, name);

function expectCoefficients(
  design: Design,
  model: ReturnType<typeof fitCounts>,
  want: Row[],
  relative: number,
): void {
  expect(design.columnNames).toHaveLength(want.length);
  want.forEach((row, j) => {
    const weights = new Float64Array(want.length);
    weights[j] = 1;
    const name = (design.columnNames[j] ?? '').replace(' ', '').toLowerCase();
    expect(name).toBe(String(row['term']).toLowerCase());
    const { estimate, se } = model.estimate(weights);
    expectClose(estimate, row['estimate'], relative, name, 1e-10);
    expectClose(se, row['se'], relative, `${name}, se`);
  });
}

function expectTests(
  set: string,
  kind: CountsKind,
  tests: 'sequential' | 'adjusted',
  want: Row[],
  relative: number,
) {
  const { design, input } = setUp(set, tests);
  const full = fitCounts(input, kind);
  const columns = termColumnSets(design, tests);
  design.terms.forEach((term, i) => {
    const set = columns[i];
    const got = set ? devianceTest(full, input, kind, set) : null;
    const row = want.find((item) => item['term'] === term.name);
    const statistic =
      kind === 'quasi-poisson' ? row?.['F'] : (row?.['lr_chisq'] ?? row?.['deviance']);
    expectClose(got?.df, row?.['df'], 0, `${term.name} df`);
    expectClose(got?.statistic, statistic, relative, `${term.name} statistic`);
    expectClose(got?.p, row?.['p'], 100 * relative, `${term.name} p`, 0);
  });
}

describe.each(['insectsprays', 'quine', 'insurance'])('Poisson counts: %s', (set) => {
  it('estimates its coefficients and the size of the fit', () => {
    const { design, input } = setUp(set);
    const model = fitCounts(input, 'poisson');
    expectCoefficients(design, model, rows(set, 'poisson_fit'), 1e-9);
    const want = figure<Record<string, number>>(sets, set, 'poisson_summary');
    expectClose(model.deviance, want['deviance'], 1e-9, 'deviance');
    expectClose(model.pearson, want['pearson_chisq'], 1e-9, 'Pearson');
    expectClose(model.logLik, want['loglik'], 1e-9, 'log-likelihood');
    expectClose(model.aic, want['aic'], 1e-9, 'aic');
    expect(model.residualDf).toBe(want['df_residual']);
  });

  it('tests its terms by likelihood ratio', () => {
    expectTests(set, 'poisson', 'sequential', rows(set, 'poisson_deviance_table'), 1e-9);
    expectTests(set, 'poisson', 'adjusted', rows(set, 'poisson_type2_lr'), 1e-9);
  });

  it('widens errors by the Pearson dispersion when quasi-Poisson', () => {
    const { design, input } = setUp(set);
    const model = fitCounts(input, 'quasi-poisson');
    expectClose(
      model.dispersion,
      figure<number>(sets, set, 'quasi_dispersion'),
      1e-9,
      'dispersion',
    );
    expectCoefficients(design, model, rows(set, 'quasi_fit'), 1e-9);
    expectTests(set, 'quasi-poisson', 'sequential', rows(set, 'quasi_deviance_table_F'), 1e-9);
    expectTests(set, 'quasi-poisson', 'adjusted', rows(set, 'quasi_type2_F'), 1e-9);
  });
});

describe('negative binomial counts', () => {
  it('estimates θ and the coefficients', () => {
    const { design, input } = setUp('quine');
    const model = fitCounts(input, 'negative-binomial');
    const want = figure<Record<string, number>>(sets, 'quine', 'negbin_theta');
    expectClose(model.dispersion, want['theta'], 1e-6, 'θ');
    expectClose(model.logLik, want['loglik'], 1e-8, 'log-likelihood');
    expectClose(model.deviance, want['deviance'], 1e-6, 'deviance');
    expectClose(model.aic, want['aic'], 1e-8, 'aic');
    expectCoefficients(design, model, rows('quine', 'negbin_fit'), 1e-6);
    const poisson = fitCounts(input, 'poisson');
    const ratio = 2 * (model.logLik - poisson.logLik);
    expectClose(ratio, figure<number>(sets, 'quine', 'negbin_vs_poisson_lr'), 1e-8, 'ratio');
  });

  it('tests its terms with θ held', () => {
    expectTests('quine', 'negative-binomial', 'adjusted', rows('quine', 'negbin_type2_lr'), 1e-6);
    const table = rows('quine', 'negbin_deviance_table');
    expectTests('quine', 'negative-binomial', 'sequential', table, 1e-6);
  });

  it('gives means back on the scale of the counts', () => {
    const { request, table } = setUp('quine');
    const result = fit({ ...request, counts: 'negative-binomial', means: [['Age']] }, table);
    expectClose(result.dispersion, 1.2748926450536133, 1e-6, 'θ');
    for (const want of rows('quine', 'negbin_means_age')) {
      const got = result.means[0]?.rows.find((row) => row['Age'] === want['Age']);
      expectClose(got?.['backTransformed'], want['response'], 1e-6, 'mean');
      expectClose(got?.['backTransformedLower'], want['lower'], 1e-6, 'lower');
      expectClose(got?.['backTransformedUpper'], want['upper'], 1e-6, 'upper');
    }
  });
});

describe('counts with an exposure', () => {
  it.each(['poisson', 'quasi-poisson'] as const)('take its logarithm as known: %s', (counts) => {
    const { request, table } = setUp('insurance');
    const result = fit({ ...request, counts, offset: 'Holders' }, table);
    const name = counts === 'poisson' ? 'poisson' : 'quasi';
    rows('insurance', `${name}_fit`).forEach((want, j) => {
      const got = result.coefficients[j];
      expectClose(got?.estimate, want['estimate'], 1e-9, String(want['term']), 1e-10);
      expectClose(got?.se, want['se'], 1e-9, `${String(want['term'])}, se`);
    });
    for (const want of rows(
      'insurance',
      counts === 'poisson' ? 'poisson_type2_lr' : 'quasi_type2_F',
    )) {
      const got = result.terms.find(({ term }) => term === want['term']);
      if (!got) continue;
      expectClose(got.statistic, want['lr_chisq'] ?? want['F'], 1e-9, got.term);
    }
    expect(result.method).toMatch(/logarithm of Holders is a known part; means are per unit/);
    expect(() => fit({ ...request, counts: null, offset: 'Holders' }, table)).toThrow(
      /offset: found "Holders" without counts/,
    );
    const none = {
      ...table,
      columns: { ...table.columns, Holders: table.columns['Claims'] ?? [] },
    };
    expect(() => fit({ ...request, offset: 'Holders' }, none)).toThrow(
      /row \d+: found 0 as offset; an exposure above 0/,
    );
  });
});

describe('means of counts', () => {
  it('are on the log scale, with ratios as differences', () => {
    const { request, table } = setUp('insectsprays');
    const compare: FitRequest['compare'] = [
      { means: ['spray'], by: [], method: 'tukey', against: null },
    ];
    const result = fit({ ...request, means: [['spray']], compare }, table);
    const got = result.means[0]?.rows ?? [];
    expectMeans(got, rows('insectsprays', 'poisson_means_link'), ['spray'], 1e-9);
    for (const want of rows('insectsprays', 'poisson_means_response')) {
      const row = got.find((item) => item['spray'] === want['spray']);
      expectClose(row?.['backTransformed'], want['rate'], 1e-9, 'rate');
      expectClose(row?.['backTransformedUpper'], want['upper'], 1e-9, 'upper');
    }
    const pairs = rows('insectsprays', 'poisson_pairs_ratio_tukey');
    const tolerance = { relative: 1e-9, p: 1e-7, ends: 1e-7 };
    expectPairs(result.comparisons[0]?.rows ?? [], pairs, ['spray'], [], tolerance);
    expect(result.terms[0]?.kind).toBe('chi-square');
  });

  it('widens them when quasi-Poisson', () => {
    const { request, table } = setUp('insectsprays');
    const result = fit({ ...request, counts: 'quasi-poisson', means: [['spray']] }, table);
    for (const want of rows('insectsprays', 'quasi_means_response')) {
      const row = result.means[0]?.rows.find((item) => item['spray'] === want['spray']);
      expectClose(row?.['backTransformedLower'], want['lower'], 1e-9, 'lower');
      expectClose(row?.['backTransformedUpper'], want['upper'], 1e-9, 'upper');
    }
    expect(result.terms[0]?.kind).toBe('F');
  });
});
