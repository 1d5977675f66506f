import { describe, expect, it } from 'vitest';
import { fitMixed, type MixedFit } from '../../renderer/engine/stats/mixed';
import {
  averageRow,
  coder,
  column,
  designOf,
  factor,
  marginalContrasts,
  numbers,
  readJson,
  readTable,
  rowsOf,
  sequentialContrasts,
  unit,
  type Factor,
  type Row,
  type Table,
} from '../engine/stats/mixed/coding';

/*
 * expected/04-strata-mixed.json: lmer polished, Satterthwaite and Kenward–Roger by lmerTest and
 * pbkrtest. Its tolerances: variances, estimates, standard errors and F 1e-7 relative;
 * Kenward–Roger df 1e-6; Satterthwaite df 1e-4 (R takes them from numerical derivatives).
 */
type Figures = Record<string, { value: unknown }>;
interface Line {
  [name: string]: string | number;
}
const file = readJson('expected/04-strata-mixed.json') as {
  sets: Record<string, { figures: Figures }>;
};
const figure = (set: string, name: string): unknown => {
  const found = file.sets[set]?.figures[name];
  if (found === undefined) throw new Error(`no figure ${set}/${name}`);
  return found.value;
};
const lines = (set: string, name: string): Line[] => figure(set, name) as Line[];

function close(found: number, expected: number, relative: number, what: string): void {
  const off = Math.abs(found - expected);
  expect(off, `${what}: ${found}, expected ${expected}`).toBeLessThanOrEqual(
    relative * Math.max(Math.abs(expected), 1e-6),
  );
}

type Kind = 'satterthwaite' | 'kenward-roger';
const kinds: Kind[] = ['satterthwaite', 'kenward-roger'];
const dfTolerance = { satterthwaite: 1e-4, 'kenward-roger': 1e-6 };
const suffix = { satterthwaite: 'satterthwaite', 'kenward-roger': 'kenward_roger' };

interface Case {
  set: string;
  prefix: string;
  table: Table;
  response: string;
  terms: (Factor | string)[][];
  /** Unit in our words and as the reference program names it. */
  units: { columns: string[]; group: string }[];
  /** Term names of the reference with the factors they are made of. */
  tests?: Record<string, string[]>;
}

const tables = {
  ergostool: readTable('data/ergostool.csv'),
  orchardsprays: readTable('data/orchardsprays.csv'),
  orchardsprays_missing: readTable('data/orchardsprays_missing.csv'),
  oats: readTable('data/oats.csv'),
  oats_missing: readTable('data/oats_missing.csv'),
  detergent: readTable('data/detergent.csv'),
  dyestuff: readTable('data/dyestuff.csv'),
  zero_variance: readTable('data/zero_variance.csv'),
};
const allPlants = readTable('data/rack_a.csv');
const alive = rowsOf(allPlants, (i) => column(allPlants, 'final_g')[i] !== '');

function split(table: Table): Factor[] {
  return [factor(table, 'Variety'), factor(table, 'nitro')];
}
function oatTerms(table: Table): Factor[][] {
  const [variety, nitro] = split(table) as [Factor, Factor];
  return [[variety], [nitro], [variety, nitro]];
}
const oatTests = { Variety: ['Variety'], N: ['nitro'], 'Variety:N': ['Variety', 'nitro'] };
const oatUnits = [
  { columns: ['Block'], group: 'Block' },
  { columns: ['Block', 'Variety'], group: 'Block:Variety' },
];
const shelf = factor(alive, 'shelf');
const feed = factor(alive, 'feed');
const variety = factor(alive, 'variety');

const cases: Case[] = [
  {
    set: 'ergostool',
    prefix: 'reml_',
    table: tables.ergostool,
    response: 'effort',
    terms: [[factor(tables.ergostool, 'Type')]],
    units: [{ columns: ['Subject'], group: 'Subject' }],
    tests: { Type: ['Type'] },
  },
  ...(['orchardsprays', 'orchardsprays_missing'] as const).map((set) => ({
    set,
    prefix: 'row_column_reml_',
    table: tables[set],
    response: 'decrease',
    terms: [[factor(tables[set], 'treatment')]],
    units: [
      { columns: ['rowpos'], group: 'R' },
      { columns: ['colpos'], group: 'C' },
    ],
    tests: { treatment: ['treatment'] },
  })),
  ...(['oats', 'oats_missing'] as const).map((set) => ({
    set,
    prefix: 'reml_',
    table: tables[set],
    response: 'yield',
    terms: oatTerms(tables[set]),
    units: oatUnits,
    tests: oatTests,
  })),
  {
    set: 'detergent',
    prefix: 'blocks_random_reml_',
    table: tables.detergent,
    response: 'plates',
    terms: [[factor(tables.detergent, 'detergent')]],
    units: [{ columns: ['block'], group: 'block' }],
    tests: { detergent: ['detergent'] },
  },
  {
    set: 'dyestuff',
    prefix: 'reml_',
    table: tables.dyestuff,
    response: 'Yield',
    terms: [],
    units: [{ columns: ['Batch'], group: 'Batch' }],
  },
  {
    set: 'zero_variance',
    prefix: 'reml_',
    table: tables.zero_variance,
    response: 'y',
    terms: [[factor(tables.zero_variance, 'trt')]],
    units: [{ columns: ['tray'], group: 'tray' }],
  },
  {
    set: 'rack_a',
    prefix: 'reml_',
    table: alive,
    response: 'final_g',
    terms: [[shelf], [feed], [variety], [feed, variety]],
    units: [{ columns: ['tray_id'], group: 'tray_id' }],
    tests: {
      shelf: ['shelf'],
      feed: ['feed'],
      variety: ['variety'],
      'feed:variety': ['feed', 'variety'],
    },
  },
  {
    set: 'rack_a',
    prefix: 'covariates_reml_',
    table: alive,
    response: 'final_g',
    terms: [[shelf], [feed], [variety], ['start_g'], ['ppfd'], [feed, variety]],
    units: [{ columns: ['tray_id'], group: 'tray_id' }],
  },
  {
    set: 'rack_a',
    prefix: 'shelf_random_reml_',
    table: alive,
    response: 'final_g',
    terms: [[feed], [variety], [feed, variety]],
    units: [
      { columns: ['shelf'], group: 'shelf' },
      { columns: ['shelf', 'tray_id'], group: 'shelf:tray_id' },
    ],
    tests: { feed: ['feed'], variety: ['variety'], 'feed:variety': ['feed', 'variety'] },
  },
];

function fit(one: Case, denominator: Kind): { model: MixedFit; row: Row } {
  const row = coder(one.terms);
  const model = fitMixed({
    x: designOf(one.table, row),
    y: numbers(one.table, one.response),
    random: one.units.map(({ columns }) => unit(one.table, columns)),
    denominator,
  });
  return { model, row };
}

const onlyFactors = (one: Case): Factor[] => {
  const found = new Map<string, Factor>();
  for (const part of one.terms.flat()) if (typeof part !== 'string') found.set(part.name, part);
  return [...found.values()];
};

describe.each(cases)('$set $prefix', (one) => {
  it('has the variances and the log-likelihood', () => {
    const { model } = fit(one, 'satterthwaite');
    const value = figure(one.set, `${one.prefix}variances`) as {
      variances: Record<string, number>;
      loglik: number;
    };
    const expected = [...one.units.map(({ group }) => group), 'Residual'].map(
      (group) => value.variances[group] ?? NaN,
    );
    model.variance.forEach(({ variance, unit: name }, k) => {
      if (expected[k] === 0) expect(variance).toBe(0);
      else close(variance, expected[k] ?? NaN, 1e-7, name);
    });
    close(model.logLik, value.loglik, 1e-9, 'log-likelihood');
    expect(model.warnings.length > 0).toBe(expected.includes(0));
  });

  it.each(kinds)('has the coefficients with standard errors and df by %s', (kind) => {
    const { model } = fit(one, kind);
    const expected = lines(one.set, `${one.prefix}fixed_${suffix[kind]}`);
    expect(model.coefficients.length).toBe(expected.length);
    expected.forEach((line, j) => {
      const weights = new Float64Array(expected.length);
      weights[j] = 1;
      const found = model.estimate(weights);
      const what = String(line['term']);
      const se = Number(line['se']);
      // A coefficient near zero is judged by its standard error.
      expect(Math.abs(found.estimate - Number(line['estimate'])), what).toBeLessThan(1e-7 * se);
      close(found.se, se, 1e-7, `se of ${what}`);
      close(found.df, Number(line['df']), dfTolerance[kind], `df of ${what}`);
    });
  });

  const { tests } = one;
  if (tests === undefined) return;
  it.each(kinds)('has the marginal tests by %s', (kind) => {
    const { model, row } = fit(one, kind);
    for (const line of lines(one.set, `${one.prefix}tests_type3_${suffix[kind]}`)) {
      const name = String(line['term']);
      const term = tests[name];
      if (term === undefined) throw new Error(`no term ${name}`);
      const contrasts =
        one.terms.length === 1
          ? sequentialContrasts(designOf(one.table, row), 1, model.coefficients.length)
          : marginalContrasts(row, onlyFactors(one), term);
      const found = model.test(contrasts);
      expect(found.df).toBe(line['df1']);
      expect(found.kind).toBe('F');
      close(found.statistic, Number(line['F']), 1e-7, `F of ${name}`);
      close(found.dfError, Number(line['df2']), dfTolerance[kind], `df of ${name}`);
      close(found.p, Number(line['p']), 1e-4, `p of ${name}`);
    }
  });
});

describe('adjusted means of the oats with plots missing', () => {
  const table = tables.oats_missing;
  const one = cases.find(({ set }) => set === 'oats_missing');
  if (one === undefined) throw new Error('no case');
  it.each([
    ['reml_means_variety_kenward_roger', 'kenward-roger', 'Variety', 'Variety'],
    ['reml_means_variety_satterthwaite', 'satterthwaite', 'Variety', 'Variety'],
    ['reml_means_nitrogen_kenward_roger', 'kenward-roger', 'nitro', 'N'],
    ['reml_means_nitrogen_satterthwaite', 'satterthwaite', 'nitro', 'N'],
  ] as const)('%s', (name, kind, ours, theirs) => {
    const { model, row } = fit(one, kind);
    for (const line of lines('oats_missing', name)) {
      const weights = averageRow(row, split(table), { [ours]: String(line[theirs]) });
      const found = model.estimate(weights);
      close(found.estimate, Number(line['emmean']), 1e-7, 'mean');
      close(found.se, Number(line['se']), 1e-7, 'se');
      close(found.df, Number(line['df']), dfTolerance[kind], 'df');
    }
  });
});

describe('containment df of the oats', () => {
  /* lme_tests: nlme's containment df, marginal tests in treatment coding; its optimum is rough. */
  it.each(['oats', 'oats_missing'] as const)('%s', (set) => {
    const table = tables[set];
    const row = coder(oatTerms(table));
    const model = fitMixed({
      x: designOf(table, row),
      y: numbers(table, 'yield'),
      random: oatUnits.map(({ columns }) => unit(table, columns)),
      denominator: 'containment',
    });
    const spans: Record<string, number[]> = {
      Variety: [1, 2],
      N: [3, 4, 5],
      'Variety:N': [6, 7, 8, 9, 10, 11],
    };
    for (const line of lines(set, 'lme_tests')) {
      const columns = spans[String(line['term'])];
      // The intercept varies between blocks; nlme counts it with the plots.
      if (columns === undefined) continue;
      const data = new Float64Array(columns.length * 12);
      columns.forEach((c, i) => {
        data[i * 12 + c] = 1;
      });
      const found = model.test({ rows: columns.length, columns: 12, data });
      expect(found.dfError).toBe(line['denDF']);
      close(found.statistic, Number(line['F-value']), 1e-5, String(line['term']));
    }
    const intercept = new Float64Array(12);
    intercept[0] = 1;
    expect(model.estimate(intercept).df).toBe(5);
  });
});

/* fit/<case>/expected.json: default 1e-5, p and variance 1e-4, df 1e-3 (relative). */
interface FitCase {
  expected: {
    terms: { term: string; df: number; dfError: number; statistic: number; p: number }[];
    variance: { unit: string; variance: number }[];
    logLik: number;
    means: { of: string[]; rows: Line[] }[];
    comparisons: { of: string[]; rows: Line[] }[];
  };
}

describe.each([
  ['oats-missing-kenward-roger', 'kenward-roger', ['gen', 'nitro']],
  ['oats-missing-satterthwaite', 'satterthwaite', ['gen', 'nitro']],
  ['strawberry-rows-and-columns', 'satterthwaite', ['gen']],
] as const)('%s', (name, denominator, treatments) => {
  const { expected } = readJson(`fit/${name}/expected.json`) as FitCase;
  const table = readTable(`fit/${name}/table.csv`);
  const factors = treatments.map((treatment) => factor(table, treatment));
  const terms = factors.length === 1 ? [factors] : [...factors.map((f) => [f]), factors];
  const row = coder(terms);
  const random =
    factors.length === 1
      ? [unit(table, ['row'], 'row'), unit(table, ['col'], 'column')]
      : [unit(table, ['block']), unit(table, ['block', 'gen'])];
  const x = designOf(table, row);
  const model = fitMixed({ x, y: numbers(table, 'yield'), random, denominator });

  it('has the variances and the log-likelihood', () => {
    for (const { unit: label, variance } of expected.variance) {
      const found = model.variance.find((v) => v.unit === label)?.variance ?? NaN;
      if (variance === 0) expect(found).toBe(0);
      else close(found, variance, 1e-4, label);
    }
    close(model.logLik, expected.logLik, 1e-5, 'log-likelihood');
  });

  it('has the tests', () => {
    for (const line of expected.terms) {
      const contrasts =
        factors.length === 1
          ? sequentialContrasts(x, 1, x.columns)
          : marginalContrasts(row, factors, line.term.split(':'));
      const found = model.test(contrasts);
      expect(found.df).toBe(line.df);
      close(found.dfError, line.dfError, 1e-3, `df of ${line.term}`);
      close(found.statistic, line.statistic, 1e-5, `F of ${line.term}`);
      close(found.p, line.p, 1e-4, `p of ${line.term}`);
    }
  });

  it('has the adjusted means', () => {
    for (const { of, rows } of expected.means) {
      for (const line of rows) {
        const at = Object.fromEntries(of.map((f) => [f, String(line[f])]));
        const found = model.estimate(averageRow(row, factors, at));
        close(found.estimate, Number(line['mean']), 1e-5, 'mean');
        close(found.se, Number(line['se']), 1e-5, 'se');
        close(found.df, Number(line['df']), 1e-3, 'df');
      }
    }
  });

  it('has the differences', () => {
    for (const { of, rows } of expected.comparisons) {
      const [name0 = ''] = of;
      for (const line of rows) {
        const a = averageRow(row, factors, { [name0]: String(line['a']) });
        const b = averageRow(row, factors, { [name0]: String(line['b']) });
        const found = model.estimate(a.map((value, j) => value - (b[j] ?? 0)));
        close(found.estimate, Number(line['difference']), 1e-5, 'difference');
        close(found.se, Number(line['se']), 1e-5, 'se');
        close(found.df, Number(line['df']), 1e-3, 'df');
      }
    }
  });
});
