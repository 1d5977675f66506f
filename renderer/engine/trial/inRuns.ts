import { unitWords } from '../../../shared-types/trial/trial';
import type { Trial } from '../../../shared-types/trial/trial';
import type { Runs } from './input';
import type { FactorUnits, SkeletonRow, UnitsReport } from './strata/skeleton';

/** Units, strata and error terms of all runs together, from those of one. */
export function inRuns(units: UnitsReport, trial: Trial, { count, swapped }: Runs): UnitsReport {
  if (count < 2) return units;
  const own = units.factors.find(({ factorId }) => factorId === swapped);
  return own ? swappedUnits(units, own, count) : repeatedUnits(units, trial, count);
}

const runsRow = (runs: number): SkeletonRow => ({
  source: 'runs',
  df: runs - 1,
  stratum: 'runs',
  units: runs,
  isError: false,
  factorIds: [],
});

/**
 * Runs that are each drawn anew: every unit of every run is a unit. A fixed factor on whole units keeps
 * its units: the same shelf with the same level is the same shelf, however often it is grown on.
 */
function repeatedUnits(
  { factors, skeleton }: UnitsReport,
  trial: Trial,
  runs: number,
): UnitsReport {
  const strata = [...new Set(skeleton.map((row) => row.stratum))];
  const rows = strata.flatMap((stratum) => {
    const here = skeleton.filter((row) => row.stratum === stratum);
    const kept = here
      .filter((row) => !row.isError)
      .map((row) => (row.factorIds.length > 0 ? row : { ...row, df: runs * row.df }));
    const left = runs * sum(here) - sum(kept);
    return [...kept, ...here.filter((row) => row.isError).map((row) => ({ ...row, df: left }))].map(
      (row) => ({ ...row, units: runs * row.units }),
    );
  });
  const stays = (id: string) =>
    trial.factors.some((f) => f.id === id && f.kind === 'fixed' && f.unit !== 'pot');
  return {
    skeleton: [runsRow(runs), ...rows],
    factors: factors.map((factor) => {
      if (stays(factor.factorId)) return factor;
      const error = rows.find((row) => row.stratum === factor.stratum && row.isError);
      return {
        ...factor,
        unitCount: runs * factor.unitCount,
        unitsPerLevel: factor.unitsPerLevel.map((level) => ({
          ...level,
          units: runs * level.units,
        })),
        errorDf: error?.df ?? 0,
        replicated: factor.replicated || factor.unitCount >= factor.unitsPerLevel.length,
      };
    }),
  };
}

/**
 * The same units in several runs between which the levels of one factor move on. Of units × runs − 1
 * degrees of freedom the runs, the units and the factor take theirs.
 */
function swappedUnits(units: UnitsReport, own: FactorUnits, runs: number): UnitsReport {
  const skeleton = skeletonOfRuns(units, own, runs);
  return { skeleton, factors: factorsInRuns(units, own, skeleton, runs) };
}

/** What stands beside the factor among its units: what moves with it, and what keeps its place. */
function beside({ skeleton }: UnitsReport, own: FactorUnits) {
  const rows = skeleton.filter(
    ({ factorIds, stratum }) =>
      factorIds.length > 0 && factorIds.join() !== own.factorId && stratum === own.stratum,
  );
  const moving = rows.filter((row) => row.factorIds.includes(own.factorId));
  return { moving, staying: rows.filter((row) => !moving.includes(row)) };
}

/** Error degrees of freedom of a factor whose levels move on between so many runs; below zero: none. */
export function errorOfSwapped(units: UnitsReport, own: FactorUnits, runs: number): number {
  const { moving } = beside(units, own);
  return (runs - 1) * (own.unitCount - 1) - (own.unitsPerLevel.length - 1) - sum(moving);
}

const stratumIn = (own: FactorUnits): string => `${unitWords[own.unit].many} in runs`;

function skeletonOfRuns(units: UnitsReport, own: FactorUnits, runs: number): SkeletonRow[] {
  const count = own.unitCount;
  const { many } = unitWords[own.unit];
  const { moving, staying } = beside(units, own);
  const row = (source: string, df: number, stratum: string, isError: boolean): SkeletonRow => ({
    source,
    df,
    stratum,
    isError,
    units: stratum === own.stratum ? count : runs * count,
    factorIds: source === own.name ? [own.factorId] : [],
  });
  const between = Math.max(0, count - 1 - sum(staying));
  const inRuns = stratumIn(own);
  // What keeps its place in every run is judged by the differences between the places.
  return [
    runsRow(runs),
    ...staying,
    staying.length > 0
      ? row(`between ${many}`, between, own.stratum, true)
      : row(many, between, own.stratum, false),
    row(own.name, own.unitsPerLevel.length - 1, inRuns, false),
    ...moving.map((other) => ({ ...other, stratum: inRuns, units: runs * count })),
    row(`between ${inRuns}`, Math.max(0, errorOfSwapped(units, own, runs)), inRuns, true),
    ...within(units.skeleton, own.stratum, count, runs),
  ];
}

/** The factors as all runs together carry them. */
function factorsInRuns(
  { factors, skeleton: today }: UnitsReport,
  own: FactorUnits,
  skeleton: readonly SkeletonRow[],
  runs: number,
): FactorUnits[] {
  const errorIn = (stratum: string): Pick<FactorUnits, 'errorDf' | 'errorTerm'> => {
    const error = skeleton.find((row) => row.stratum === stratum && row.isError);
    return { errorDf: error?.df ?? 0, errorTerm: error?.source ?? `between ${stratum}` };
  };
  return factors.map((factor) => {
    const isOwn = factor.factorId === own.factorId;
    if (!isOwn && factor.stratum === own.stratum) return { ...factor, ...errorIn(factor.stratum) };
    const coarser = !today.some(
      (row) => row.stratum === factor.stratum && row.units >= own.unitCount,
    );
    if (coarser) return factor;
    const stratum = isOwn ? stratumIn(own) : factor.stratum;
    const unitsPerLevel = factor.unitsPerLevel.map((level) => ({
      ...level,
      units: isOwn
        ? Math.floor((runs * own.unitCount) / factor.unitsPerLevel.length)
        : runs * level.units,
    }));
    return {
      ...factor,
      stratum,
      unitsPerLevel,
      unitCount: runs * factor.unitCount,
      ...errorIn(stratum),
      replicated: true,
    };
  });
}

/** The strata within the swapped units, from the coarse to the fine, over all runs. */
function within(
  skeleton: readonly SkeletonRow[],
  outer: string,
  count: number,
  runs: number,
): SkeletonRow[] {
  const finer = skeleton.filter((row) => row.stratum !== outer && row.units > count);
  const rows: SkeletonRow[] = [];
  let parent = count;
  for (const stratum of new Set(finer.map((row) => row.stratum))) {
    const here = finer.filter((row) => row.stratum === stratum);
    const units = Math.max(...here.map((row) => row.units));
    const tested = here.filter((row) => row.factorIds.length > 0);
    const error = runs * (units - parent) - sum(tested);
    rows.push(...tested.map((row) => ({ ...row, units: runs * units })));
    if (error > 0) {
      const blocks = stratum === 'blocks';
      const source = blocks ? stratum : `between ${stratum}`;
      const of = { source, df: error, stratum, units: runs * units };
      rows.push({ ...of, isError: !blocks, factorIds: [] });
    }
    parent = units;
  }
  return rows;
}

const sum = (rows: readonly SkeletonRow[]): number => rows.reduce((n, { df }) => n + df, 0);
