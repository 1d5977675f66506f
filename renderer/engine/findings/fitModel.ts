import type { DataTable, FitRequest, FitResult } from '../../../shared-types/fit';
import type { PositionModel } from '../../../shared-types/trial';
import { fit } from '../stats/fit';
import { belowZeroWords } from '../stats/fit/unitsModel';
import { fewLayouts } from './allocation';
import { requestFor, type Asked, type DesignModel } from './request';
import { COLUMN, type TrialTable } from './table';

/** What is left out of a fit that does not need it, such as its means. */
export type Trim = (request: FitRequest) => FitRequest;

const RESIDUAL = 'residual';

/**
 * Fits the design under a position model. What falls on whole units is judged by the mean square
 * between those units, on their own df, under every model: place within units says nothing about it.
 * Light alone differs between units too; there it is a covariate as the mean of each unit.
 * Throws with the reason where the data do not allow the model.
 */
export function fitModel(
  { table }: Pick<TrialTable, 'table'>,
  design: DesignModel,
  model: PositionModel,
  asked: Asked,
  trim: Trim = (request) => request,
): { request: FitRequest; result: FitResult } {
  const request = trim(requestFor(design, model, asked));
  const { allocation = null, whole = false, confidence } = asked;
  const fewer = allocation && { ...allocation, runs: fewLayouts(1 - confidence) };
  const result = fit(request, table, whole ? allocation : fewer);
  const strata = design.randomUnits.map((columns) => ({ columns, name: columns.join(' × ') }));
  const onUnits = strata.filter(({ name }) => result.terms.some((t) => t.stratum === name));
  if (onUnits.length === 0) return { request, result };
  const unchecked: Trim = (plain) => ({ ...trim(plain), checks: [] });
  switch (model) {
    case 'none':
    // A fit with a covariance of its own keeps to the rule by itself.
    case 'rows+columns':
    case 'smooth':
    case 'ar1':
      return { request, result };
    case 'edge':
    case 'linear': {
      const plain = fit(unchecked(requestFor(design, 'none', asked)), table);
      const byStratum = new Map(onUnits.map(({ name }) => [name, plain]));
      return { request, result: withUnits(result, byStratum, WITHOUT_PLACE) };
    }
    case 'light': {
      const plain = unchecked(requestFor(design, 'none', asked));
      const byStratum = new Map(
        onUnits.map(({ columns, name }) => [name, fitWithMeanLight(plain, table, columns)]),
      );
      return { request, result: withUnits(result, byStratum, MEAN_LIGHT) };
    }
    default:
      return model satisfies never;
  }
}

const WITHOUT_PLACE =
  'What falls on whole units is judged by the mean square between them, without regard to place ' +
  'within them, on its own degrees of freedom.';
const MEAN_LIGHT =
  'What falls on whole units is judged by the mean square between them, with the mean light of each ' +
  'unit as a covariate where it differs, on its own degrees of freedom.';

/** The fit without place, and with the mean light of each unit where that differs between them. */
function fitWithMeanLight(
  plain: FitRequest,
  table: DataTable,
  units: readonly string[],
): FitResult {
  const light = table.columns[COLUMN.ppfd] ?? [];
  const unitOf = Array.from({ length: table.rowCount }, (_, i) =>
    units.map((column) => String(table.columns[column]?.[i])).join('\n'),
  );
  const sums = new Map<string, { sum: number; pots: number }>();
  unitOf.forEach((unit, i) => {
    const { sum, pots } = sums.get(unit) ?? { sum: 0, pots: 0 };
    sums.set(unit, { sum: sum + Number(light[i]), pots: pots + 1 });
  });
  const mean = (unit: string) => {
    const { sum, pots } = sums.get(unit) ?? { sum: NaN, pots: 1 };
    return sum / pots;
  };
  const means = [...sums.keys()].map(mean);
  if (Math.max(...means) - Math.min(...means) < 1e-9) return fit(plain, table);
  const columns = { ...table.columns, [COLUMN.ppfd]: unitOf.map(mean) };
  const covariates = [...plain.covariates, COLUMN.ppfd];
  return fit({ ...plain, covariates }, { ...table, columns });
}

/** A result whose parts that fall on units are those of other fits, by the name of the stratum. */
function withUnits(
  own: FitResult,
  byStratum: ReadonlyMap<string, FitResult>,
  words: string,
): FitResult {
  const stratumOf = new Map(own.terms.map(({ term, stratum }) => [term, stratum ?? RESIDUAL]));
  const fitOf = (term: string): FitResult => byStratum.get(stratumOf.get(term) ?? '') ?? own;
  const coarsest = (of: readonly string[]): FitResult =>
    [...byStratum].find(([name]) => of.some((term) => stratumOf.get(term) === name))?.[1] ?? own;
  return {
    ...own,
    method: `${own.method} ${words}`,
    terms: own.terms.map((row) => fitOf(row.term).terms.find((t) => t.term === row.term) ?? row),
    means: own.means.map(
      (table) => coarsest(table.of).means.find(({ of }) => same(of, table.of)) ?? table,
    ),
    comparisons: own.comparisons.map(
      (table) =>
        coarsest(table.of).comparisons.find(
          ({ of, by, method }) =>
            method === table.method && same(of, table.of) && same(by, table.by),
        ) ?? table,
    ),
    contrasts: own.contrasts.map(
      (row) =>
        fitOf(row.of).contrasts.find(({ name, of }) => name === row.name && of === row.of) ?? row,
    ),
    meanSquares: own.meanSquares.map(
      (row) => byStratum.get(row.unit)?.meanSquares.find(({ unit }) => unit === row.unit) ?? row,
    ),
    variance: own.variance.map(
      (row) => byStratum.get(row.unit)?.variance.find(({ unit }) => unit === row.unit) ?? row,
    ),
    warnings: [
      ...new Set([
        ...own.warnings.filter(
          (text) => ![...byStratum.keys()].some((unit) => text.startsWith(belowZeroWords(unit))),
        ),
        ...[...byStratum.values()].flatMap(({ warnings }) => warnings),
      ]),
    ],
  };
}

function same(a: readonly string[], b: readonly string[]): boolean {
  return a.join('\n') === b.join('\n');
}
