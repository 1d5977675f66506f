import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import type { FitResult } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectPairs } from './compare';
import { expectClose, figure, readCsv, readSets } from './figures';
import type { Row } from './figures';

// Term tests, means and comparisons of mixed models, asked for as requests. Source and
// tolerances: tests/reference/expected/04-strata-mixed.json.
const sets = readSets('04-strata-mixed');
const DF = { satterthwaite: 1e-4, 'kenward-roger': 1e-6 };
type Denominator = keyof typeof DF;

const oats = {
  response: 'yield',
  treatments: ['Variety', 'nitro'],
  randomUnits: [['Block'], ['Block', 'Variety']],
};
const blocksFixed = { ...oats, fixedBlocks: ['Block'], randomUnits: [['Block', 'Variety']] };
const rackA = {
  response: 'final_g',
  treatments: ['feed', 'variety'],
  fixedBlocks: ['shelf'],
  randomUnits: [['tray_id']],
};
const rackCovariates = { ...rackA, covariates: ['start_g', 'ppfd'] };
const rackRandom = { ...rackA, fixedBlocks: [], randomUnits: [['shelf'], ['shelf', 'tray_id']] };
const squares = {
  response: 'decrease',
  treatments: ['treatment'],
  randomUnits: [['rowpos'], ['colpos']],
};
const detergent = { response: 'plates', treatments: ['detergent'], randomUnits: [['block']] };
const stools = { response: 'effort', treatments: ['Type'], randomUnits: [['Subject']] };

/** Our name of a recorded column or factor. */
const ours = (name: string): string => (name === 'N' ? 'nitro' : name);

function run(set: string, asked: object, denominator: Denominator): FitResult {
  const request = fitRequestSchema.parse({ tests: 'marginal', denominator, ...asked });
  return fit(request, readCsv(sets[set]?.file ?? '', categoryColumns(request)));
}

const renamed = (rows: Row[]): Row[] =>
  rows.map((row) => ('N' in row ? { ...row, nitro: row['N'] ?? null } : row));

function testsOf(
  set: string,
  asked: object,
  prefix: string,
): [string, string, object, Denominator][] {
  return (['satterthwaite', 'kenward-roger'] as const).map((denominator) => [
    set,
    `${prefix}tests_type3_${denominator.replace('-', '_')}`,
    asked,
    denominator,
  ]);
}

describe('term tests', () => {
  it.each<[string, string, object, Denominator]>([
    ...testsOf('ergostool', stools, 'reml_'),
    ...testsOf('orchardsprays', squares, 'row_column_reml_'),
    ...testsOf('orchardsprays_missing', squares, 'row_column_reml_'),
    ...['oats', 'oats_missing'].flatMap((set) => [
      ...testsOf(set, oats, 'reml_'),
      [
        set,
        'reml_tests_type1_satterthwaite',
        { ...oats, tests: 'sequential' },
        'satterthwaite',
      ] as [string, string, object, Denominator],
      [set, 'reml_tests_type2_kenward_roger', { ...oats, tests: 'adjusted' }, 'kenward-roger'] as [
        string,
        string,
        object,
        Denominator,
      ],
      [set, 'reml_blocks_fixed_tests', blocksFixed, 'kenward-roger'] as [
        string,
        string,
        object,
        Denominator,
      ],
    ]),
    ...testsOf('detergent', detergent, 'blocks_random_reml_'),
    ...testsOf('rack_a', rackA, 'reml_'),
    ...testsOf('rack_a', rackCovariates, 'covariates_reml_'),
    ...testsOf('rack_a', rackRandom, 'shelf_random_reml_'),
  ])('%s: %s', (set, name, asked, denominator) => {
    const result = run(set, asked, denominator);
    const want = figure<Row[]>(sets, set, name);
    expect(result.terms).toHaveLength(want.length);
    for (const row of want) {
      const term = String(row['term']).split(':').map(ours).join(' × ');
      const got = result.terms.find((item) => item.term === term);
      expectClose(got?.df, row['df1'], 0, `${term} df`);
      expectClose(got?.dfError, row['df2'], DF[denominator], `${term} error df`);
      expectClose(got?.statistic, row['F'], 1e-6, `${term} F`);
      expectClose(got?.p, row['p'], 1e-4, `${term} p`, 0);
    }
  });
});

describe('means', () => {
  it.each<[string, string, object, string[], Denominator]>([
    ['ergostool', 'reml_means_satterthwaite', stools, ['Type'], 'satterthwaite'],
    ['ergostool', 'reml_means_kenward_roger', stools, ['Type'], 'kenward-roger'],
    ['orchardsprays', 'row_column_reml_means', squares, ['treatment'], 'kenward-roger'],
    ...['oats', 'oats_missing'].flatMap(
      (set): [string, string, object, string[], Denominator][] => [
        [set, 'reml_means_variety_kenward_roger', oats, ['Variety'], 'kenward-roger'],
        [set, 'reml_means_variety_satterthwaite', oats, ['Variety'], 'satterthwaite'],
        [set, 'reml_means_nitrogen_kenward_roger', oats, ['nitro'], 'kenward-roger'],
        [set, 'reml_means_nitrogen_satterthwaite', oats, ['nitro'], 'satterthwaite'],
        [set, 'reml_cell_means_kenward_roger', oats, ['Variety', 'nitro'], 'kenward-roger'],
      ],
    ),
    ['detergent', 'blocks_random_reml_means', detergent, ['detergent'], 'kenward-roger'],
    ['rack_a', 'reml_means_feed', rackA, ['feed'], 'kenward-roger'],
    ['rack_a', 'reml_means_feed_satterthwaite', rackA, ['feed'], 'satterthwaite'],
    ['rack_a', 'reml_means_variety', rackA, ['variety'], 'kenward-roger'],
    ['rack_a', 'covariates_reml_means_cells', rackCovariates, ['feed', 'variety'], 'kenward-roger'],
  ])('%s: %s', (set, name, asked, of, denominator) => {
    const got = run(set, { ...asked, means: [of] }, denominator).means[0]?.rows ?? [];
    const want = renamed(figure<Row[]>(sets, set, name));
    expect(got).toHaveLength(want.length);
    for (const row of want) {
      const place = of.map((factor) => String(row[factor])).join(' ');
      const mean = got.find((item) => of.every((name) => String(item[name]) === String(row[name])));
      expectClose(mean?.mean, row['emmean'], 1e-7, place);
      expectClose(mean?.se, row['se'], 1e-6, `${place}, se`);
      expectClose(mean?.df, row['df'], DF[denominator], `${place}, df`);
      expectClose(mean?.lower, row['lower'], 1e-5, `${place}, lower`);
      expectClose(mean?.upper, row['upper'], 1e-5, `${place}, upper`);
    }
  });
});

describe('comparisons', () => {
  it.each<[string, string, object, string[], string[], string]>([
    ['ergostool', 'reml_pairs_tukey', stools, ['Type'], [], 'tukey'],
    ...['oats', 'oats_missing'].flatMap(
      (set): [string, string, object, string[], string[], string][] => [
        [set, 'reml_pairs_variety_tukey', oats, ['Variety'], [], 'tukey'],
        [set, 'reml_pairs_nitrogen_tukey', oats, ['nitro'], [], 'tukey'],
        [set, 'reml_pairs_variety_within_nitrogen', oats, ['Variety'], ['nitro'], 'tukey'],
        [set, 'reml_pairs_nitrogen_within_variety', oats, ['nitro'], ['Variety'], 'tukey'],
      ],
    ),
    ['detergent', 'blocks_random_reml_pairs_tukey', detergent, ['detergent'], [], 'tukey'],
    ['rack_a', 'reml_pairs_variety_tukey', rackA, ['variety'], [], 'tukey'],
    ['rack_a', 'reml_pairs_variety_holm', rackA, ['variety'], [], 'holm'],
    ['rack_a', 'covariates_reml_pairs_feed', rackCovariates, ['feed'], [], 'tukey'],
  ])('%s: %s', (set, name, asked, of, by, method) => {
    const compare = [{ means: of, by, method }];
    const got = run(set, { ...asked, compare }, 'kenward-roger').comparisons[0]?.rows ?? [];
    const want = renamed(figure<Row[]>(sets, set, name)).map((row) => ({
      ...row,
      contrast: String(row['contrast']).replaceAll(/\bN(?=\d)/g, 'nitro'),
    }));
    expectPairs(got, want, of, by, { relative: 1e-6, p: 1e-6, ends: 1e-5 });
  });
});

describe('the error term of a term', () => {
  // Yates (1935): varieties on main plots, nitrogen on subplots; the trial record of rack_a: feed
  // by tray, variety by pot.
  it.each<[string, object, Record<string, string>]>([
    [
      'oats_missing',
      oats,
      { Variety: 'Block × Variety', nitro: 'residual', 'Variety × nitro': 'residual' },
    ],
    [
      'rack_a',
      rackCovariates,
      { shelf: 'tray_id', feed: 'tray_id', variety: 'residual', start_g: 'residual' },
    ],
  ])('%s', (set, asked, want) => {
    const { terms } = run(set, asked, 'satterthwaite');
    const got = Object.fromEntries(terms.map((row) => [row.term, row.stratum]));
    expect(got).toMatchObject(want);
  });
});
