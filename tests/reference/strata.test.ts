import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import type { FitResult } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectClose, figure, readCsv, readSets } from './figures';
import type { FigureSet, Row } from './figures';

// Sources: the error strata of tests/reference/expected/02 (npk) and 04.
const balanced = readSets('02-anova-balanced');
const mixed = readSets('04-strata-mixed');

function run(sets: Record<string, FigureSet>, set: string, asked: object): FitResult {
  const request = fitRequestSchema.parse({ exactStrata: true, tests: 'sequential', ...asked });
  return fit(request, readCsv(sets[set]?.file ?? '', categoryColumns(request)));
}

/** Recorded stratum and term names, by ours. */
type Names = Record<string, string>;

function expectStrata(result: FitResult, want: Record<string, Row[]>, names: Names): void {
  const ours = (name: string): string =>
    name
      .split(':')
      .map((part) => names[part] ?? part)
      .join(' × ');
  let terms = 0;
  for (const [stratum, table] of Object.entries(want)) {
    const unit = stratum === 'Within' ? 'residual' : ours(stratum);
    const error = table.find((row) => row['term'] === 'Residuals');
    for (const row of table) {
      if (row === error) continue;
      terms++;
      const name = ours(String(row['term']));
      const got = result.terms.find((item) => item.term === name && item.stratum === unit);
      expectClose(got?.df, row['df'], 0, `${name} df`);
      expectClose(got?.ss, row['ss'], 1e-10, `${name} ss`);
      expectClose(got?.dfError, error?.['df'], 0, `${name} error df`);
      expectClose(got?.statistic, row['F'], 1e-9, `${name} F`);
      expectClose(got?.p, row['p'], 1e-8, `${name} p`, 0);
    }
    if (unit !== 'residual') continue;
    expectClose(result.residual?.df, error?.['df'], 0, 'residual df');
    expectClose(result.residual?.ss, error?.['ss'], 1e-10, 'residual ss');
  }
  expect(result.terms).toHaveLength(terms);
}

describe('exact error strata', () => {
  it.each<[string, Record<string, FigureSet>, string, object, Names]>([
    [
      'a three-factor interaction confounded with blocks',
      balanced,
      'npk',
      { response: 'yield', treatments: ['N', 'P', 'K'], randomUnits: [['block']] },
      {},
    ],
    [
      'complete blocks',
      mixed,
      'ergostool',
      { response: 'effort', treatments: ['Type'], randomUnits: [['Subject']] },
      {},
    ],
    [
      'rows and columns of a Latin square',
      mixed,
      'orchardsprays',
      { response: 'decrease', treatments: ['treatment'], randomUnits: [['rowpos'], ['colpos']] },
      { R: 'rowpos', C: 'colpos' },
    ],
    [
      'a split plot',
      mixed,
      'oats',
      {
        response: 'yield',
        treatments: ['Variety', 'nitro'],
        randomUnits: [['Block', 'Variety'], ['Block']],
      },
      { N: 'nitro' },
    ],
    [
      'batches without treatments',
      mixed,
      'dyestuff',
      { response: 'Yield', randomUnits: [['Batch']] },
      {},
    ],
    [
      'trays alike beyond chance',
      mixed,
      'zero_variance',
      { response: 'y', treatments: ['trt'], randomUnits: [['tray']] },
      {},
    ],
  ])('%s', (_, sets, set, request, names) => {
    expectStrata(run(sets, set, request), figure(sets, set, 'strata'), names);
  });

  it('tests a linear covariate in the stratum where it varies', () => {
    const result = run(mixed, 'oats', {
      response: 'yield',
      treatments: ['Variety'],
      covariates: ['nitro'],
      covariateInteractions: [['Variety', 'nitro']],
      randomUnits: [['Block'], ['Block', 'Variety']],
    });
    expectStrata(result, figure(mixed, 'oats', 'strata_linear_nitrogen'), {});
  });

  // In a balanced split plot the REML fit agrees with the strata, wherever no variance is at zero.
  it('agrees with the mixed model on variances, means and their df', () => {
    const asked = {
      response: 'yield',
      treatments: ['Variety', 'nitro'],
      randomUnits: [['Block'], ['Block', 'Variety']],
      means: [['Variety'], ['nitro'], ['Variety', 'nitro']],
      compare: [
        { means: 'Variety', method: 'tukey' },
        { means: 'nitro', by: ['Variety'], method: 'tukey' },
        { means: 'Variety', by: ['nitro'], method: 'none' },
      ],
    };
    const exact = run(mixed, 'oats', asked);
    const reml = figure<{ variances: Record<string, number> }>(mixed, 'oats', 'reml_variances');
    const units = { 'Block × Variety': 'Block:Variety', Block: 'Block', residual: 'Residual' };
    for (const [unit, recorded] of Object.entries(units)) {
      const got = exact.variance.find((row) => row.unit === unit);
      expectClose(got?.variance, reml.variances[recorded], 1e-8, unit);
    }
    const fitted = run(mixed, 'oats', { ...asked, exactStrata: false });
    exact.means.forEach((table, t) => {
      table.rows.forEach((row, i) => {
        const other = fitted.means[t]?.rows[i];
        expectClose(row.mean, other?.mean, 1e-8, 'mean');
        expectClose(row.se, other?.se, 1e-6, 'se');
        expectClose(row.df, other?.df, 1e-4, 'df');
      });
    });
    exact.comparisons.forEach((table, t) => {
      table.rows.forEach((row, i) => {
        const other = fitted.comparisons[t]?.rows[i];
        expectClose(row.difference, other?.difference, 1e-8, 'difference', 1e-9);
        expectClose(row.se, other?.se, 1e-6, 'se');
        expectClose(row.df, other?.df, 1e-4, 'df');
      });
    });
  });

  it('refuses incomplete blocks, lost rows and unlisted groups, with the reason', () => {
    const detergent = { response: 'plates', treatments: ['detergent'], randomUnits: [['block']] };
    // Five detergents in blocks of three, each pair together in three: efficiency 5/6 within.
    expect(() => run(mixed, 'detergent', detergent)).toThrow(
      /detergent falls partly into several strata \(17 % in block, 83 % in residual\)/,
    );
    const lost = {
      response: 'decrease',
      treatments: ['treatment'],
      randomUnits: [['rowpos'], ['colpos']],
    };
    expect(() => run(mixed, 'orchardsprays_missing', lost)).toThrow(/hold between \d and 8 rows/);
  });
});
