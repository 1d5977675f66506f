import { unitWords } from '../../../shared-types/trial';
import type { Trial } from '../../../shared-types/trial';
import type { Runs } from './blocks';
import type { FactorUnits, SkeletonRow, UnitsReport } from './skeleton';

/** Units, strata and error terms of all runs together, from those of one. */
export function inRuns(units: UnitsReport, trial: Trial, { count, swapped }: Runs): UnitsReport {
  if (count < 2) return units;
  const own = units.factors.find(({ factorId }) => factorId === swapped);
  return own ? swappedUnits(units, own, count) : repeatedUnits(units, trial, count);
}

const runsRow = (runs: number): SkeletonRow => ({
  ...{ source: 'runs', df: runs - 1, stratum: 'runs', units: runs, isError: false },
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

/** What stands beside the factor among its units, its interactions apart from what stays where it is. */
function beside({ skeleton }: UnitsReport, own: FactorUnits) {
  const rows = skeleton.filter(
    ({ factorIds, stratum }) =>
      factorIds.length > 0 && factorIds.join() !== own.factorId && stratum === own.stratum,
  );
  const moving = sum(rows.filter((row) => row.factorIds.includes(own.factorId)));
  return { rows, moving, staying: sum(rows) - moving };
}

/** Error degrees of freedom of a factor whose levels move on between so many runs; below zero: none. */
export function errorOfSwapped(units: UnitsReport, own: FactorUnits, runs: number): number {
  const { moving } = beside(units, own);
  return (runs - 1) * (own.unitCount - 1) - (own.unitsPerLevel.length - 1) - moving;
}

const stratumIn = (own: FactorUnits): string => `${unitWords[own.unit].many} in runs`;

function skeletonOfRuns(units: UnitsReport, own: FactorUnits, runs: number): SkeletonRow[] {
  const count = own.unitCount;
  const { many } = unitWords[own.unit];
  const { rows, staying } = beside(units, own);
  const stratum = stratumIn(own);
  const row = (source: string, df: number, isError = false): SkeletonRow => ({
    ...{ source, df, stratum, units: runs * count, isError },
    factorIds: source === own.name ? [own.factorId] : [],
  });
  // What stays on its shelf or tray in every run is a part of the differences between these.
  return [
    runsRow(runs),
    ...(count - 1 > staying ? [row(many, count - 1 - staying)] : []),
    row(own.name, own.unitsPerLevel.length - 1),
    ...rows.map((other) => ({ ...other, stratum, units: runs * count })),
    row(`between ${stratum}`, Math.max(0, errorOfSwapped(units, own, runs)), true),
    ...within(units.skeleton, own.stratum, count, runs),
  ];
}

/** The factors as all runs together carry them; what stays where it is cannot be told from its place. */
function factorsInRuns(
  { factors, skeleton: today }: UnitsReport,
  own: FactorUnits,
  skeleton: readonly SkeletonRow[],
  runs: number,
): FactorUnits[] {
  return factors.map((factor) => {
    const isOwn = factor.factorId === own.factorId;
    const stays = !isOwn && factor.stratum === own.stratum;
    const coarser = !today.some(
      (row) => row.stratum === factor.stratum && row.units >= own.unitCount,
    );
    if (stays || coarser) return factor;
    const stratum = isOwn ? stratumIn(own) : factor.stratum;
    const error = skeleton.find((row) => row.stratum === stratum && row.isError);
    const unitsPerLevel = factor.unitsPerLevel.map((level) => ({
      ...level,
      units: isOwn
        ? Math.floor((runs * own.unitCount) / factor.unitsPerLevel.length)
        : runs * level.units,
    }));
    return {
      ...factor,
      ...{ stratum, unitsPerLevel, unitCount: runs * factor.unitCount },
      ...{ errorDf: error?.df ?? 0, replicated: true },
      errorTerm: error?.source ?? factor.errorTerm,
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
