import { alphaOf } from '../../stats/alpha';
import type { DataTable, FitRequest, FitResult } from '../../../../shared-types/fit';
import type { PositionModel } from '../../../../shared-types/trial/position';
import { fit, layoutTests, type UntreatedBy } from '../../stats/fit';
import { belowZeroWords } from '../../stats/fit/unitsModel';
import { fewLayouts } from './allocation';
import { type DesignModel } from './designModel';
import { requestFor, type Asked } from './request';
import { type TrialTable } from '../table/table';
import { COLUMN } from '../table/columns';

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
): ModelFit {
  const request = trim(requestFor(design, model, asked));
  const { allocation = null, whole = false, confidence } = asked;
  const fewer = allocation && { ...allocation, runs: fewLayouts(alphaOf(confidence)) };
  const result = fit(request, table, whole ? allocation : fewer);
  const judged = new Set(result.terms.map(({ stratum }) => stratum));
  const { tiers, words } = unitFits({ table }, design, model, asked, trim);
  const fitted = new Map<UnitFit, FitResult>();
  const byStratum = new Map(
    [...tiers].flatMap(([name, ownOf]) => {
      if (!judged.has(name)) return [];
      const own = ownOf();
      const found = fitted.get(own) ?? fit(own.request, own.table);
      fitted.set(own, found);
      return [[name, found] as const];
    }),
  );
  const unitRequests = [...byStratum.keys()].flatMap((unit) => {
    const own = tiers.get(unit)?.();
    return own ? [{ unit, request: own.request }] : [];
  });
  if (byStratum.size === 0) return { request, unitRequests, result };
  return { request, unitRequests, result: withUnits(result, byStratum, words) };
}

export interface ModelFit {
  request: FitRequest;
  /** What judges the terms that fall on a kind of unit, where that is not `request` itself. */
  unitRequests: { unit: string; request: FitRequest }[];
  result: FitResult;
}

/** p of each term of `fitModel`, for one response after another to the same layout. */
export function fitTests(
  { table }: Pick<TrialTable, 'table'>,
  design: DesignModel,
  model: PositionModel,
  asked: Asked,
  untreatedBy: UntreatedBy | null = null,
): ReturnType<typeof layoutTests> {
  const request = requestFor(design, model, asked);
  const own = layoutTests(request, table, asked.allocation ?? null, untreatedBy);
  const { tiers } = unitFits({ table }, design, model, asked);
  const tests = own.tests.map((test) => {
    const tier = tiers.get(test.stratum ?? '')?.();
    const found =
      tier && layoutTests(tier.request, tier.table, null).tests.find((t) => t.term === test.term);
    return found ?? test;
  });
  return { rowIndex: own.rowIndex, tests };
}

/** A fit that judges what falls on one kind of unit: its request, and the table it reads. */
export interface UnitFit {
  request: FitRequest;
  table: DataTable;
}

/**
 * The fits by which factors on whole units are judged instead of the model's own, by the name of the
 * unit; none where the model keeps to the unit rule by itself.
 */
export function unitFits(
  { table }: Pick<TrialTable, 'table'>,
  design: DesignModel,
  model: PositionModel,
  asked: Asked,
  trim: Trim = (request) => request,
): { tiers: ReadonlyMap<string, () => UnitFit>; words: string } {
  const strata = design.randomUnits.map((columns) => ({ columns, name: columns.join(' × ') }));
  const plain = (): FitRequest => ({ ...trim(requestFor(design, 'none', asked)), checks: [] });
  switch (model) {
    case 'none':
    // A fit with a covariance of its own keeps to the rule by itself.
    case 'rows+columns':
    case 'smooth':
    case 'ar1':
      return { tiers: new Map(), words: '' };
    case 'edge':
    case 'linear': {
      const own = { request: plain(), table };
      return { tiers: new Map(strata.map(({ name }) => [name, () => own])), words: WITHOUT_PLACE };
    }
    case 'light':
      return {
        tiers: new Map(
          strata.map(({ columns, name }) => [name, () => withMeanLight(plain(), table, columns)]),
        ),
        words: MEAN_LIGHT,
      };
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
function withMeanLight(plain: FitRequest, table: DataTable, units: readonly string[]): UnitFit {
  const withMeans = withUnitLight(table, [units]);
  const name = unitLightColumn(units);
  if (!withMeans.columns[name]) return { request: plain, table };
  return { request: { ...plain, covariates: [...plain.covariates, name] }, table: withMeans };
}

/** `mean light of tray` */
function unitLightColumn(units: readonly string[]): string {
  return `mean light of ${units.join(' × ')}`;
}

/**
 * The light at each pot with a response; null where one lacks it. A dead pot may lack it: as the
 * difference from its unit's mean it is told over the pots analysed.
 */
export function lightOfAnalysed({ columns }: DataTable): number[] | null {
  const light = columns[COLUMN.ppfd] ?? [];
  const rows = (columns[COLUMN.response] ?? []).flatMap((value, i) => (value === null ? [] : [i]));
  const known = rows.map((i) => light[i]).filter((value) => typeof value === 'number');
  return known.length > 0 && known.length === rows.length ? known : null;
}

/** The table with a column of the mean light of each kind of unit between which that differs. */
export function withUnitLight(table: DataTable, kinds: readonly (readonly string[])[]): DataTable {
  const light = table.columns[COLUMN.ppfd] ?? [];
  if (!lightOfAnalysed(table)) return table;
  const columns = { ...table.columns };
  for (const units of kinds) {
    const unitOf = Array.from({ length: table.rowCount }, (_, i) =>
      units.map((column) => String(table.columns[column]?.[i])).join('\n'),
    );
    const sums = new Map<string, { sum: number; pots: number }>();
    unitOf.forEach((unit, i) => {
      if (typeof light[i] !== 'number') return;
      const { sum, pots } = sums.get(unit) ?? { sum: 0, pots: 0 };
      sums.set(unit, { sum: sum + Number(light[i]), pots: pots + 1 });
    });
    const means = new Map([...sums].map(([unit, { sum, pots }]) => [unit, sum / pots]));
    const all = [...means.values()];
    if (Math.max(...all) - Math.min(...all) < 1e-9) continue;
    columns[unitLightColumn(units)] = unitOf.map((unit) => means.get(unit) ?? NaN);
  }
  return { ...table, columns };
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
