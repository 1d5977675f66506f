import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import type { FitResult } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { expectAnova, expectFit, expectLetters, expectMeans, expectPairs } from './compare';
import { expectClose, figure, readCsv, readSets } from './figures';
import type { FigureSet, Row } from './figures';

// Sources: tests/reference/expected/02, 03, 05 and the linear parts of 04; each figure there has
// its data set's source and the call that made it.
const balanced = readSets('02-anova-balanced');
const unbalanced = readSets('03-anova-unbalanced');
const ancova = readSets('05-ancova');
const strata = readSets('04-strata-mixed');

const pairTolerance = { relative: 1e-9, p: 1e-7, ends: 1e-6 };

function run(sets: Record<string, FigureSet>, set: string, asked: object): FitResult {
  const request = fitRequestSchema.parse(asked);
  return fit(request, readCsv(sets[set]?.file ?? '', categoryColumns(request)));
}

const rows = (sets: Record<string, FigureSet>, set: string, name: string): Row[] =>
  figure<Row[]>(sets, set, name);

/** Means and pairs of some factors: where they are recorded. */
interface Marginal {
  figure: string;
  of: string[];
  by?: string[];
  method?: string;
  against?: string;
}

interface Case {
  name: string;
  sets: Record<string, FigureSet>;
  set: string;
  request: object;
  relative: number;
  anova?: { figure: string; tests: string }[];
  fit?: string;
  means?: Marginal[];
  pairs?: Marginal[];
  letters?: { figure: string; of: string[]; numeric: string[] };
}

const crossed = { response: 'len', treatments: ['supp', 'dose'] };
const additive = { ...crossed, interactions: 'none' };
const npk = {
  response: 'yield',
  treatments: ['N', 'P', 'K'],
  interactions: [
    ['N', 'P'],
    ['N', 'K'],
    ['P', 'K'],
  ],
  fixedBlocks: ['block'],
};

const cases: Case[] = [
  {
    name: 'one way',
    sets: balanced,
    set: 'plantgrowth',
    request: { response: 'weight', treatments: ['group'] },
    relative: 1e-10,
    anova: ['sequential', 'adjusted', 'marginal'].map((tests) => ({ figure: 'anova', tests })),
    fit: 'fit',
    means: [{ figure: 'means', of: ['group'] }],
    pairs: [
      { figure: 'pairs_tukey', of: ['group'], method: 'tukey' },
      { figure: 'pairs_holm', of: ['group'], method: 'holm' },
      { figure: 'pairs_none', of: ['group'], method: 'none' },
      { figure: 'dunnett', of: ['group'], method: 'dunnett', against: 'ctrl' },
    ],
    letters: { figure: 'letters', of: ['group'], numeric: [] },
  },
  {
    name: 'two way',
    sets: balanced,
    set: 'toothgrowth',
    request: crossed,
    relative: 1e-10,
    anova: ['sequential', 'adjusted', 'marginal'].map((tests) => ({ figure: 'anova', tests })),
    fit: 'fit',
    means: [
      { figure: 'cell_means', of: ['supp', 'dose'] },
      { figure: 'means_dose', of: ['dose'] },
      { figure: 'means_supp', of: ['supp'] },
    ],
    pairs: [
      { figure: 'pairs_cells_tukey', of: ['supp', 'dose'], method: 'tukey' },
      { figure: 'pairs_supp_within_dose', of: ['supp'], by: ['dose'], method: 'tukey' },
    ],
    letters: { figure: 'letters_cells', of: ['supp', 'dose'], numeric: ['dose'] },
  },
  {
    name: 'two way, additive',
    sets: balanced,
    set: 'toothgrowth',
    request: additive,
    relative: 1e-10,
    anova: [{ figure: 'anova_additive', tests: 'sequential' }],
  },
  {
    name: 'confounded factorial',
    sets: balanced,
    set: 'npk',
    request: { ...npk, interactions: 'all' },
    relative: 1e-10,
    anova: [{ figure: 'anova', tests: 'sequential' }],
  },
  {
    name: 'factorial in blocks',
    sets: balanced,
    set: 'npk',
    request: npk,
    relative: 1e-10,
    anova: [{ figure: 'anova_two_way', tests: 'sequential' }],
    fit: 'fit_two_way',
    means: [{ figure: 'means_N', of: ['N'] }],
  },
  {
    name: 'square roots of counts',
    sets: balanced,
    set: 'insectsprays_sqrt',
    request: { response: 'count', scale: 'sqrt', treatments: ['spray'] },
    relative: 1e-10,
    anova: [{ figure: 'anova', tests: 'adjusted' }],
    means: [{ figure: 'means', of: ['spray'] }],
    pairs: [{ figure: 'pairs_tukey', of: ['spray'], method: 'tukey' }],
    letters: { figure: 'letters', of: ['spray'], numeric: [] },
  },
  {
    name: 'unbalanced two way',
    sets: unbalanced,
    set: 'toothgrowth_unbalanced',
    request: crossed,
    relative: 1e-9,
    anova: [
      { figure: 'type1', tests: 'sequential' },
      { figure: 'type2', tests: 'adjusted' },
      { figure: 'type3', tests: 'marginal' },
    ],
    fit: 'fit',
    means: [
      { figure: 'means_A', of: ['supp'] },
      { figure: 'means_B', of: ['dose'] },
      { figure: 'cell_means', of: ['supp', 'dose'] },
    ],
    pairs: [
      { figure: 'pairs_A_tukey', of: ['supp'], method: 'tukey' },
      { figure: 'pairs_B_tukey', of: ['dose'], method: 'tukey' },
      { figure: 'pairs_B_holm', of: ['dose'], method: 'holm' },
      { figure: 'pairs_cells_tukey', of: ['supp', 'dose'], method: 'tukey' },
      { figure: 'pairs_A_within_B', of: ['supp'], by: ['dose'], method: 'tukey' },
    ],
    letters: { figure: 'letters_cells', of: ['supp', 'dose'], numeric: ['dose'] },
  },
  {
    name: 'an empty cell',
    sets: unbalanced,
    set: 'toothgrowth_missing_cell',
    request: crossed,
    relative: 1e-9,
    anova: [
      { figure: 'type1', tests: 'sequential' },
      { figure: 'type2', tests: 'adjusted' },
    ],
    means: [
      { figure: 'cell_means', of: ['supp', 'dose'] },
      { figure: 'means_dose', of: ['dose'] },
      { figure: 'means_supp', of: ['supp'] },
    ],
  },
  {
    name: 'an empty cell, additive',
    sets: unbalanced,
    set: 'toothgrowth_missing_cell',
    request: additive,
    relative: 1e-9,
    anova: [{ figure: 'additive_type2', tests: 'adjusted' }],
    means: [{ figure: 'additive_means_dose', of: ['dose'] }],
    pairs: [{ figure: 'additive_pairs_dose_tukey', of: ['dose'], method: 'tukey' }],
  },
  {
    name: 'unbalanced one way',
    sets: unbalanced,
    set: 'plantgrowth_unbalanced',
    request: { response: 'weight', treatments: ['group'] },
    relative: 1e-9,
    anova: [{ figure: 'anova', tests: 'adjusted' }],
    means: [{ figure: 'means', of: ['group'] }],
    pairs: [
      { figure: 'pairs_tukey_kramer', of: ['group'], method: 'tukey' },
      { figure: 'pairs_holm', of: ['group'], method: 'holm' },
      { figure: 'pairs_bonferroni', of: ['group'], method: 'bonferroni' },
      { figure: 'dunnett', of: ['group'], method: 'dunnett', against: 'ctrl' },
    ],
    letters: { figure: 'letters', of: ['group'], numeric: [] },
  },
  {
    name: 'factorial with lost plots',
    sets: unbalanced,
    set: 'npk_missing',
    request: npk,
    relative: 1e-9,
    anova: [
      { figure: 'type1', tests: 'sequential' },
      { figure: 'type2', tests: 'adjusted' },
      { figure: 'type3', tests: 'marginal' },
    ],
    means: [
      { figure: 'means_N', of: ['N'] },
      { figure: 'means_NP', of: ['N', 'P'] },
    ],
    pairs: [{ figure: 'pairs_N', of: ['N'], method: 'tukey' }],
  },
  {
    name: 'a covariate',
    sets: ancova,
    set: 'anorexia',
    request: { response: 'Postwt', covariates: ['Prewt'], treatments: ['Treat'] },
    relative: 1e-9,
    anova: [
      { figure: 'type1', tests: 'sequential' },
      { figure: 'type2', tests: 'adjusted' },
      { figure: 'type3', tests: 'marginal' },
    ],
    means: [{ figure: 'adjusted_means', of: ['Treat'] }],
    pairs: [
      { figure: 'pairs_tukey', of: ['Treat'], method: 'tukey' },
      { figure: 'versus_control_unadjusted', of: ['Treat'], method: 'none', against: 'Cont' },
      { figure: 'versus_control_holm', of: ['Treat'], method: 'holm', against: 'Cont' },
    ],
  },
  {
    name: 'two covariates and trays',
    sets: ancova,
    set: 'rack_a_one_shelf',
    request: {
      response: 'final_g',
      covariates: ['start_g', 'ppfd'],
      treatments: ['tray_id', 'variety'],
      interactions: 'none',
    },
    relative: 1e-9,
    anova: [
      { figure: 'type1', tests: 'sequential' },
      { figure: 'type2', tests: 'adjusted' },
    ],
    fit: 'fit',
    means: [{ figure: 'adjusted_means', of: ['variety'] }],
    pairs: [{ figure: 'pairs_tukey', of: ['variety'], method: 'tukey' }],
  },
  {
    name: 'complete blocks',
    sets: strata,
    set: 'ergostool',
    request: { response: 'effort', fixedBlocks: ['Subject'], treatments: ['Type'] },
    relative: 1e-9,
    anova: [{ figure: 'anova_blocks_fixed', tests: 'sequential' }],
    means: [{ figure: 'means', of: ['Type'] }],
    pairs: [{ figure: 'pairs_tukey', of: ['Type'], method: 'tukey' }],
  },
  {
    name: 'incomplete blocks',
    sets: strata,
    set: 'detergent',
    request: { response: 'plates', fixedBlocks: ['block'], treatments: ['detergent'] },
    relative: 1e-9,
    anova: [{ figure: 'intrablock_anova', tests: 'sequential' }],
    means: [{ figure: 'intrablock_means', of: ['detergent'] }],
    pairs: [{ figure: 'intrablock_pairs_tukey', of: ['detergent'], method: 'tukey' }],
  },
  {
    name: 'pots taken for the units of a tray factor',
    sets: strata,
    set: 'rack_a',
    request: { response: 'final_g', fixedBlocks: ['shelf'], treatments: ['feed', 'variety'] },
    relative: 1e-9,
    anova: [{ figure: 'wrong_model_ignoring_trays', tests: 'sequential' }],
  },
];

describe.each(cases)('$name ($set)', ({ sets, set, request, relative, ...figures }) => {
  it.each(figures.anova ?? [])('tests its terms: $figure, $tests', ({ figure: name, tests }) => {
    expectAnova(run(sets, set, { ...request, tests }), rows(sets, set, name), relative);
  });

  if (figures.fit !== undefined) {
    const name = figures.fit;
    it('estimates its coefficients', () => {
      expectFit(run(sets, set, request), figure(sets, set, name), relative);
    });
  }

  it.each(figures.means ?? [])('estimates means: $figure', ({ figure: name, of }) => {
    const result = run(sets, set, { ...request, means: [of] });
    expectMeans(result.means[0]?.rows ?? [], rows(sets, set, name), of, relative);
  });

  it.each(figures.pairs ?? [])('compares means: $figure', (pair) => {
    const { of, by = [], method, against = null } = pair;
    const result = run(sets, set, { ...request, compare: [{ means: of, by, method, against }] });
    const got = result.comparisons[0]?.rows ?? [];
    expectPairs(got, rows(sets, set, pair.figure), of, by, pairTolerance);
  });

  if (figures.letters) {
    const { figure: name, of, numeric } = figures.letters;
    it('gives letters', () => {
      const result = run(sets, set, { ...request, compare: [{ means: of, method: 'tukey' }] });
      expectLetters(result.comparisons[0]?.letters ?? {}, figure(sets, set, name), of, numeric);
    });
  }
});

describe('a Latin square', () => {
  const request = {
    response: 'decrease',
    fixedBlocks: ['rowpos', 'colpos'],
    treatments: ['treatment'],
    means: [['treatment']],
    compare: [
      { means: 'treatment', method: 'tukey' },
      { means: 'treatment', method: 'none', against: 'A' },
    ],
  };
  const renamed = (table: Row[]): Row[] =>
    table.map((row) => {
      const names: Record<string, string> = { R: 'rowpos', C: 'colpos' };
      return { ...row, term: names[String(row['term'])] ?? row['term'] ?? null };
    });

  it('is tested with rows and columns taken out', () => {
    const result = run(strata, 'orchardsprays', { ...request, tests: 'sequential' });
    expectAnova(result, renamed(rows(strata, 'orchardsprays', 'anova')), 1e-9);
    expectMeans(
      result.means[0]?.rows ?? [],
      rows(strata, 'orchardsprays', 'means'),
      ['treatment'],
      1e-9,
    );
    const [pairs, control] = result.comparisons;
    expectPairs(
      pairs?.rows ?? [],
      rows(strata, 'orchardsprays', 'pairs_tukey'),
      ['treatment'],
      [],
      pairTolerance,
    );
    const recorded = rows(strata, 'orchardsprays', 'dunnett_contrasts_unadjusted');
    expectPairs(control?.rows ?? [], recorded, ['treatment'], [], pairTolerance);
  });

  it.each([
    ['type1', 'sequential'],
    ['type2', 'adjusted'],
  ])('with lost plots: %s', (name, tests) => {
    const result = run(strata, 'orchardsprays_missing', { ...request, tests });
    expectAnova(result, renamed(rows(strata, 'orchardsprays_missing', name)), 1e-9);
    const recorded = rows(strata, 'orchardsprays_missing', 'means');
    expectMeans(result.means[0]?.rows ?? [], recorded, ['treatment'], 1e-9);
  });
});

describe('particular figures', () => {
  it('gives means of square roots back on the scale of the counts', () => {
    const result = run(balanced, 'insectsprays_sqrt', {
      response: 'count',
      scale: 'sqrt',
      treatments: ['spray'],
      means: [['spray']],
    });
    for (const want of rows(balanced, 'insectsprays_sqrt', 'means_back_transformed')) {
      const got = result.means[0]?.rows.find((row) => row['spray'] === want['spray']);
      expectClose(got?.['backTransformed'], want['response'], 1e-10, 'mean');
      expectClose(got?.['backTransformedLower'], want['lower'], 1e-10, 'lower');
      expectClose(got?.['backTransformedUpper'], want['upper'], 1e-10, 'upper');
    }
  });

  it('names what a confounded interaction or an empty cell takes away', () => {
    const confounded = run(balanced, 'npk', { ...npk, interactions: 'all' });
    expect(confounded.terms.find((row) => row.term === 'N × P × K')?.statistic).toBeNull();
    expect(confounded.warnings.join(' ')).toMatch(/N 1 × P 1 × K 1/);
    const empty = run(unbalanced, 'toothgrowth_missing_cell', { ...crossed, means: [['dose']] });
    expect(empty.warnings.join(' ')).toMatch(/supp VC × dose 1/);
    expect(empty.warnings.join(' ')).toMatch(/mean of dose cannot be estimated for 1:/);
    const recorded = figure<Record<string, number | null>>(
      unbalanced,
      'toothgrowth_missing_cell',
      'aliased_coefficients',
    );
    const estimable = Object.values(recorded).filter((value) => value !== null);
    empty.coefficients.forEach((row, i) => {
      expectClose(row.estimate, estimable[i], 1e-9, row.name);
    });
    expect(empty.coefficients).toHaveLength(estimable.length);
  });

  it.each([
    ['anorexia', 'Postwt', 'Prewt', ['Treat'], ['Prewt'], 'equal_slopes_test'],
    [
      'rack_a_one_shelf',
      'final_g',
      'start_g',
      ['tray_id', 'variety'],
      ['start_g', 'ppfd'],
      'slopes_test_start',
    ],
  ])('tests equal slopes: %s', (set, response, covariate, treatments, covariates, name) => {
    const last = treatments.at(-1) ?? '';
    const result = run(ancova, set, {
      response,
      covariates,
      treatments,
      interactions: 'none',
      covariateInteractions: [[covariate, last]],
    });
    const want = rows(ancova, set, name)[1];
    const got = result.terms.find((row) => row.term === `${covariate} × ${last}`);
    expectClose(got?.ss, want?.['ss'], 1e-9, 'ss');
    expectClose(got?.df, want?.['df'], 0, 'df');
    expectClose(got?.statistic, want?.['F'], 1e-9, 'F');
    expectClose(got?.p, want?.['p'], 1e-7, 'p');
    expectClose(result.residual?.ss, want?.['rss'], 1e-9, 'residual ss');
  });
});
