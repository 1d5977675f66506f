import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  columnNames,
  COLUMN,
  findingsOf,
  mainComparison,
  termOf,
  type Findings,
  type FindingsInput,
} from '../../../renderer/engine/findings';
import { fit } from '../../../renderer/engine/stats/fit';
import { drawLayout } from '../../../renderer/engine/trial';
import { stream } from '../../../renderer/engine/trial/stream';
import { fitRequestSchema, type DataTable } from '../../../shared-types/fit';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { drawn, factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

// Whatever the person calls things, the figures stay. Names are those that could be taken for
// something else: our own columns, figures of a result, parts of the language, signs that join.

const NAMES = [
  ...Object.values(COLUMN),
  ...['unit', 'run', 'start', 'treatment', 'plant', 'value', 'day', 'mean', 'se', 'df', 'lower'],
  ...['backTransformed', 'residual', '(intercept)', '__proto__', 'constructor', 'toString', 'NA'],
  ...['hasOwnProperty', 'a × b', 'b × a', 'a:b', 'a · b', '+N', '-N', '=x', '@y', 'x, "y"', '漢'],
  ...['0', '1', '01', '1e3', '-2', 'Infinity', 'null', '÷', '−', 'tray (factor)', 'all', 'edge'],
];
const name = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...NAMES) },
  fc.string({ minLength: 1, maxLength: 8 }).map((t) => t.trim()),
);
const namesOf = (n: number) =>
  fc.uniqueArray(
    name.filter((t) => t !== ''),
    { minLength: n, maxLength: n, selector: (t) => t.toLowerCase() },
  );

const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 3, columns: 4 });
const feed: Factor = {
  ...factorOf(1, 'tray', 2),
  control: 'l101',
};
const medium: Factor = {
  ...factorOf(2, 'pot', 3),
  contrasts: [
    {
      name: 'first against the rest',
      weights: [
        { levelId: 'l201', weight: 1 },
        { levelId: 'l202', weight: -0.5 },
        { levelId: 'l203', weight: -0.5 },
      ],
    },
  ],
};
const weight = (id: string, timepoint: Measurement['timepoint']): Measurement => ({
  id,
  name: 'fresh weight',
  kind: 'weight',
  unit: 'g',
  decimals: 1,
  timepoint,
  date: null,
  lowest: null,
  highest: null,
});
const trial: Trial = trialOf([feed, medium], {
  measurements: [weight('m1', 'start'), weight('m2', 'harvest')],
  blocks: { by: 'shelf' },
  scheme: 'split-plot',
  startDate: '2026-03-01',
  harvestDate: '2026-04-01',
  primaryOutcomeId: 'm2',
  primaryIndex: 'relative-growth-rate',
  startCovariate: true,
});

/** The trial with every name replaced; `names` in the order feed, medium, their levels, the rest. */
function called(names: { factors: string[]; feed: string[]; medium: string[]; other: string[] }) {
  const rename = (factor: Factor, i: number, levels: readonly string[]): Factor => ({
    ...factor,
    name: names.factors[i] ?? '',
    levels: factor.levels.map((level, l) => ({ ...level, name: levels[l] ?? '' })),
    ...(factor.contrasts
      ? { contrasts: factor.contrasts.map((c) => ({ ...c, name: names.other[0] ?? '' })) }
      : {}),
  });
  return {
    ...trial,
    factors: [rename(feed, 0, names.feed), rename(medium, 1, names.medium)],
    measurements: trial.measurements.map((m, i) => ({ ...m, name: names.other[i + 1] ?? '' })),
  };
}

/** Drawn, grown and recorded by ids alone. */
function inputFor(renamed: Trial): FindingsInput {
  const { layout } = drawLayout({ ...inputOf(rack, renamed), seed: 'names', ...drawn });
  const random = stream('names', 'harvest');
  const values: Record<string, Record<string, number>> = { m1: {}, m2: {} };
  const ppfd = new Map<string, number>();
  layout.assignments.forEach(({ potId, levels }, i) => {
    const start = 2 + 0.2 * random.normal();
    const gain = levels['f2'] === 'l203' ? 4 : levels['f1'] === 'l102' ? 2 : 0;
    (values['m1'] ??= {})[potId] = start;
    (values['m2'] ??= {})[potId] = 20 + gain + start + random.normal();
    ppfd.set(potId, 200 + (i % 7));
  });
  return {
    rack,
    trial: renamed,
    layout,
    zones: [],
    ppfdByPot: ppfd,
    blockByPot: new Map(),
    records: { values, second: {}, marks: {}, incidents: [] },
  };
}

function findings(renamed: Trial): Findings {
  const outcome = findingsOf(inputFor(renamed));
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

/** Every figure by ids and positions, none by a name. */
function figures(found: Findings) {
  const levelOf = (f: number, called: unknown) =>
    found.roles[f]?.factor.levels.findIndex((level) => level.name === called) ?? -1;
  const columns = found.roles.map(({ column }) => column);
  return found.positions.map(({ model, result }) => ({
    model,
    terms: [[0], [1], [0, 1]].map((set) => {
      const term = termOf(
        result,
        set.map((f) => columns[f] ?? ''),
      );
      // Satterthwaite's df of a test of several differences at once rests on which of them are
      // written down (Fai & Cornelius 1996), and those follow the order of the names.
      const several = (term?.df ?? 0) > 1;
      return [term?.df, term?.statistic, ...(several ? [] : [term?.dfError, term?.p])];
    }),
    means: [0, 1].map((f) => {
      const rows =
        result.means.find(({ of }) => of.length === 1 && of[0] === columns[f])?.rows ?? [];
      return rows
        .map((row) => [levelOf(f, row[columns[f] ?? '']), row.mean, row.se, row.lower, row.upper])
        .sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0));
    }),
    pairs: found.roles.map((role, f) =>
      (mainComparison(result, role)?.rows ?? [])
        .map((row) => {
          const [a, b] = [levelOf(f, row.a), levelOf(f, row.b)];
          return [Math.min(a, b), Math.max(a, b), a < b ? row.difference : -row.difference, row.p];
        })
        .sort((x, y) => 10 * ((x[0] ?? 0) - (y[0] ?? 0)) + (x[1] ?? 0) - (y[1] ?? 0)),
    ),
    contrasts: result.contrasts.map(({ estimate, se, p }) => [estimate, se, p]),
    variance: result.variance.map(({ variance }) => variance),
    edge: found.edge?.difference ?? null,
    light: found.light?.difference ?? null,
  }));
}

/** Equal but for the rounding of another order of levels. */
function expectClose(found: unknown, wanted: unknown, path = ''): void {
  if (typeof wanted === 'number' && typeof found === 'number') {
    const off = Math.abs(found - wanted);
    if (off > 1e-7 + 1e-5 * Math.abs(wanted))
      expect(`${path}: ${found}`).toBe(`${path}: ${wanted}`);
  } else if (Array.isArray(wanted) && Array.isArray(found)) {
    expect(found.length, path).toBe(wanted.length);
    wanted.forEach((one, i) => {
      expectClose(found[i], one, `${path}[${i}]`);
    });
  } else if (wanted !== null && typeof wanted === 'object') {
    for (const [key, one] of Object.entries(wanted)) {
      expectClose((found as Record<string, unknown>)[key], one, `${path}.${key}`);
    }
  } else expect(found, path).toEqual(wanted);
}

describe('names', () => {
  const plain = figures(findings(trial));

  it('are told apart whatever factors are called', () => {
    fc.assert(
      fc.property(namesOf(4), (names) => {
        const factors = names.map((called, i) => ({ ...factorOf(i + 1, 'pot', 2), name: called }));
        const columns = [...columnNames(factors).values()];
        expect(new Set([...columns, ...Object.values(COLUMN)]).size).toBe(
          4 + Object.values(COLUMN).length,
        );
        expect(columns.filter((column) => column.includes(' × '))).toEqual([]);
      }),
    );
  });

  it('of factors, levels, comparisons and measurements leave every figure of the findings', () => {
    const names = fc.record({
      factors: namesOf(2),
      feed: namesOf(2),
      medium: namesOf(3),
      other: namesOf(3),
    });
    fc.assert(
      fc.property(names, (chosen) => {
        expectClose(figures(findings(called(chosen))), plain);
      }),
      { numRuns: 8 },
    );
  }, 120_000);

  it('of columns, levels and units leave every figure of a fit', () => {
    const { table } = findings(trial);
    const pick = (column: string) => table.columns[column] ?? [];
    const fitted = (n: readonly string[], levels: readonly string[], units: readonly string[]) => {
      const [treatment = '', unit = '', response = '', start = ''] = n;
      const renamed = (cells: readonly unknown[], names: readonly string[]) => {
        const old = [...new Set(cells)];
        return cells.map((cell) => names[old.indexOf(cell)] ?? '');
      };
      const data: DataTable = {
        columns: Object.fromEntries([
          [treatment, renamed(pick('Factor 2'), levels)],
          [unit, renamed(pick(COLUMN.tray), units)],
          [response, pick(COLUMN.response)],
          [start, pick(COLUMN.start)],
        ]),
        rowCount: table.rowCount,
      };
      const request = fitRequestSchema.parse({
        response,
        treatments: [treatment],
        covariates: [start],
        randomUnits: [[unit]],
        compare: [{ means: [treatment], method: 'tukey' }],
        redraw: { within: [unit], runs: 99, seed: 'names' },
      });
      const { terms, comparisons, variance, redraw, logLik } = fit(request, data);
      const pairs = comparisons.flatMap(({ rows }) =>
        rows.map(({ difference }) => Math.abs(difference)),
      );
      return {
        terms: terms.map(({ df, dfError, statistic, p }) => [df, dfError, statistic, p]),
        pairs: pairs.sort((a, b) => a - b),
        variance: variance.map((row) => row.variance),
        redraw: redraw?.p,
        logLik,
      };
    };
    const own = fitted(['treatment', 'unit', 'y', 'x'], ['a', 'b', 'c'], ['1', '2', '3', '4']);
    // A result is told by the names of its columns: those that are its own words are refused in words.
    const refused = new Set(['mean', 'se', 'df', 'lower', 'upper', 'residual', 'backTransformed']);
    const columns = namesOf(4).filter((names) => !names.some((one) => refused.has(one)));
    fc.assert(
      fc.property(columns, namesOf(3), namesOf(4), (names, levels, units) => {
        expectClose(fitted(names, levels, units), own);
      }),
      { numRuns: 30 },
    );
  }, 60_000);
});
