import { unitWords } from '../../../../shared-types/trial';
import type { Factor } from '../../../../shared-types/trial';
import { bind } from '../../../document';
import { repeatTrial } from '../../../document/commands';
import { FEWEST_ERROR_DF, type FactorUnits, type SkeletonRow } from '../../../engine/trial';
import type { UnitsReport } from '../../../engine/trial/units';
import { daysBetween } from '../../../engine/calendar';
import { questionsOn } from '../questions';
import { factorOf, measured, stopOf, worseThan, type Today, type WayOut } from './way';

/**
 * The same units in several runs, every level on every unit equally often: a square of runs by
 * units. Of units × runs − 1 degrees of freedom the runs, the units and the factor take theirs.
 */
export function swappedRuns(factor: Factor, today: Today): WayOut | null {
  const { plan, units } = today;
  const own = factorOf(units, factor.id);
  const levels = factor.levels.length;
  if (!own || own.unitCount < levels) return null;
  const errorOf = errorInRuns(units, own, levels);
  let runs = levels;
  while (errorOf(runs) < FEWEST_ERROR_DF) runs += levels;
  const skeleton = skeletonOfRuns(units, own, levels, runs, errorOf(runs));
  const questions = questionsOn(
    plan,
    { skeleton, factors: inRuns(units, own, skeleton, runs) },
    runs,
  );
  const pots = measured(plan);
  const { many } = unitWords[own.unit];
  return {
    title: `Grow it ${runs} times, levels of ${factor.name} swapped each time`,
    says: `The levels move on by one of the ${many} each time, so that ${many} and runs can be told from ${factor.name}.`,
    costs: [weeks(today, runs), 'nothing to buy'],
    pots: pots * runs,
    morePots: pots * (runs - 1),
    skeleton,
    questions,
    worse: worseThan(today, questions),
    command: (date) => bind(repeatTrial, { factorId: factor.id, kind: stopOf(own), runs, date }),
    after: plan,
    price: 20 * runs,
  };
}

function weeks({ plan }: Today, runs: number): string {
  const { startDate, harvestDate } = plan.trial ?? {};
  if (!startDate || !harvestDate) return `${runs - 1} more runs`;
  return `${Math.ceil(((runs - 1) * daysBetween(startDate, harvestDate)) / 7)} more weeks`;
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

function errorInRuns(units: UnitsReport, own: FactorUnits, levels: number) {
  const { moving } = beside(units, own);
  return (runs: number): number => (runs - 1) * (own.unitCount - 1) - (levels - 1) - moving;
}

const stratumIn = (own: FactorUnits): string => `${unitWords[own.unit].many} in runs`;

function skeletonOfRuns(
  units: UnitsReport,
  own: FactorUnits,
  levels: number,
  runs: number,
  error: number,
): SkeletonRow[] {
  const count = own.unitCount;
  const { many } = unitWords[own.unit];
  const { rows, staying } = beside(units, own);
  const stratum = stratumIn(own);
  const row = (source: string, df: number, where: string, isError = false): SkeletonRow => ({
    ...{ source, df, stratum: where, units: runs * count, isError },
    factorIds: source === own.name ? [own.factorId] : [],
  });
  // What stays on its shelf or tray in every run is a part of the differences between these.
  return [
    row('runs', runs - 1, 'runs'),
    ...(count - 1 > staying ? [row(many, count - 1 - staying, stratum)] : []),
    row(own.name, levels - 1, stratum),
    ...rows.map((other) => ({ ...other, stratum, units: runs * count })),
    row(`between ${stratum}`, error, stratum, true),
    ...within(units.skeleton, own.stratum, count, runs),
  ];
}

/** The factors as all runs together carry them; what stays where it is cannot be told from its place. */
function inRuns(
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
      units: isOwn ? (runs * own.unitCount) / factor.unitsPerLevel.length : runs * level.units,
    }));
    return {
      ...factor,
      ...{ stratum, unitsPerLevel, unitCount: runs * factor.unitCount },
      ...{ errorDf: error?.df ?? 0, replicated: true },
    };
  });
}

const sum = (rows: readonly SkeletonRow[]): number => rows.reduce((n, { df }) => n + df, 0);

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
