import { unitWords } from '../../../shared-types/trial';
import type { Plan } from '../../../shared-types/plan';
import type { Blocks, Factor, Scheme, Trial, UnitKind } from '../../../shared-types/trial';
import { redesign, repeatShelves } from '../../document/commands';
import { misfitsOf } from '../../engine/trial/fit/fit';
import { asApplied, trialPotsOf } from '../../engine/trial';
import { schemeUsesBlocks, siteOf } from '../../engine/trial/site';
import { unitsOfSite, type FactorUnits, type SkeletonRow } from '../../engine/trial/units';
import { ppfdByPotOf } from '../light/potLight';
import { memo } from '../memo';
import { attempt, potsOf, unitsOfPlan, zonesOf } from './trial';

/** What taking up a way out does to the plan; each is one command. */
export type WayOutStep =
  | { do: 'redesign'; factorId: string; unit: UnitKind; blocks: Blocks; scheme: Scheme }
  | { do: 'repeatShelves'; times: number }
  | { do: 'repeatTrial'; factorId: string; runs: number }
  | { do: 'reportAsCase'; factorId: string };

/** One thing that can be done about a factor that cannot be judged. */
export interface WayOut {
  title: string;
  /** What it means at the rack, and what it takes. */
  says: string;
  /** Measured pots grown in all, and how many of them are more than planned now. */
  pots: number;
  morePots: number;
  skeleton: SkeletonRow[];
  /** Degrees of freedom of the error that the factor is then judged by. */
  errorDf: number;
  step: WayOutStep;
}

/** Below this a test exists on paper only: the t quantile is past 3. */
const FEWEST_ERROR_DF = 4;
const MOST_TIMES = 4;

/** Whether a factor needs a way out: no replicates, or hardly an error term. */
export function needsWayOut(factor: FactorUnits): boolean {
  return (
    factor.unitsPerLevel.length >= 2 && (!factor.replicated || factor.errorDf < FEWEST_ERROR_DF)
  );
}

/** The ways out that this rack allows, the ones that take no more pots first. */
export const waysOutOf = memo((plan: Plan, factorId: string): WayOut[] => {
  const planned = plan.trial?.factors.find((one) => one.id === factorId);
  const units = unitsOfPlan(plan);
  const own = units.ok ? units.value.factors.find((one) => one.factorId === factorId) : undefined;
  // On the unit that can in truth differ.
  const factor = planned && own ? { ...planned, unit: own.unit } : planned;
  if (!factor || factor.levels.length < 2) return [];
  const finer = (['tray', 'pot'] as const).filter(
    (unit) => factor.unit !== unit && factor.unit !== 'pot' && canDiffer(plan, factor, unit),
  );
  const split = finer
    .filter((unit) => unit === 'pot' || factor.unit === 'shelf')
    .flatMap((unit) => splitOnto(plan, factor, unit) ?? []);
  const more = factor.unit === 'pot' ? null : moreShelves(plan, factor);
  const repeat = factor.unit === 'pot' ? null : repeated(plan, factor);
  return [...split, ...(more ? [more] : []), ...(repeat ? [repeat] : []), asCase(plan, factor)];
});

/** Whether what the factor is applied through can differ between such units on this rack. */
function canDiffer(plan: Plan, factor: Factor, unit: 'tray' | 'pot'): boolean {
  if (!plan.trial) return false;
  const factors = [{ ...factor, unit, kind: 'randomised' as const, where: [] }];
  const { shared } = asApplied({ ...plan.trial, factors }, trialPotsOf(plan.rack, zonesOf(plan)));
  return shared.length === 0;
}

const measured = (plan: Plan): number => potsOf(plan).filter((pot) => !pot.guard).length;

interface Judged {
  skeleton: SkeletonRow[];
  factor: FactorUnits;
}

/** Units of an altered plan; null where its layout could not be drawn or the factor not judged. */
function judged(plan: Plan, lightOf: Plan, factorId: string): Judged | null {
  const { trial, rack } = plan;
  if (!trial) return null;
  const found = attempt(() => {
    const site = siteOf({ rack, trial, ppfdByPot: ppfdByPotOf(lightOf), zones: zonesOf(plan) });
    return misfitsOf(site).length > 0 ? null : unitsOfSite(site);
  });
  if (!found.ok || !found.value) return null;
  const factor = found.value.factors.find((one) => one.factorId === factorId);
  if (!factor?.replicated || factor.errorDf < 1) return null;
  return { skeleton: found.value.skeleton, factor };
}

/** Blocks and schemes to try, the ones that keep the plan's own first. */
function designsFor(trial: Trial, factor: Factor, unit: UnitKind): [Blocks, Scheme][] {
  const elsewhere = trial.factors.some((one) => one.id !== factor.id && one.unit !== unit);
  const schemes: Scheme[] = elsewhere
    ? ['split-plot']
    : ['complete-blocks', 'completely-randomised'];
  const blocks: Blocks[] = [
    ...(trial.blocks.by === 'none' ? [] : [trial.blocks]),
    ...(unit === 'pot' ? [{ by: 'tray' } as const] : []),
    { by: 'shelf' },
    { by: 'none' },
  ];
  return schemes.flatMap((scheme) => blocks.map((one): [Blocks, Scheme] => [one, scheme]));
}

function splitOnto(plan: Plan, factor: Factor, unit: 'tray' | 'pot'): WayOut | null {
  if (!plan.trial) return null;
  for (const [blocks, scheme] of designsFor(plan.trial, factor, unit)) {
    const args = { factorId: factor.id, unit, blocks, scheme };
    const found = judged(redesign.run(plan, args), plan, factor.id);
    if (!found) continue;
    const each = Math.min(...found.factor.unitsPerLevel.map((level) => level.units));
    const where = factor.unit === 'shelf' ? 'Split each shelf' : 'Split each tray';
    return {
      title: `${where}: lay ${factor.name} on single ${unit}s`,
      says: `Takes a ${factor.name} that can be given ${unit} by ${unit}. ${each} ${unit}s a level, shuffled ${inBlocks(blocks, scheme)}.`,
      pots: measured(plan),
      morePots: 0,
      skeleton: found.skeleton,
      errorDf: found.factor.errorDf,
      step: { do: 'redesign', ...args },
    };
  }
  return null;
}

function inBlocks(blocks: Blocks, scheme: Scheme): string {
  if (!schemeUsesBlocks(scheme) || blocks.by === 'none') return 'over the whole rack';
  if (blocks.by === 'shelf' || blocks.by === 'tray') return `within each ${blocks.by}`;
  return 'within the blocks';
}

function moreShelves(plan: Plan, factor: Factor): WayOut | null {
  const pots = measured(plan);
  for (let times = 1; times <= MOST_TIMES; times++) {
    const grown = repeatShelves.run(plan, { times });
    const found = judged(grown, plan, factor.id);
    if (!found || (found.factor.errorDf < FEWEST_ERROR_DF && times < MOST_TIMES)) continue;
    const shelves = plan.rack.shelves.length * times;
    return {
      title: `Add ${shelves} shelves like these`,
      says: `The same shelves ${times === 1 ? 'once' : `${times} times`} more, with lamps and trays, each level on ${times + 1} times as many.`,
      pots: pots * (times + 1),
      morePots: pots * times,
      skeleton: found.skeleton,
      errorDf: found.factor.errorDf,
      step: { do: 'repeatShelves', times },
    };
  }
  return null;
}

/**
 * The same units in several runs, every level on every unit equally often: a square of runs by
 * units. Of units × runs − 1 degrees of freedom the runs, the units and the factor take theirs.
 */
function repeated(plan: Plan, factor: Factor): WayOut | null {
  const units = unitsOfPlan(plan);
  const own = units.ok ? units.value.factors.find((one) => one.factorId === factor.id) : undefined;
  const levels = factor.levels.length;
  const count = own?.unitCount ?? 0;
  if (!own || !units.ok || count < levels) return null;
  const others = units.value.skeleton.filter(
    ({ factorIds }) => factorIds.length > 0 && factorIds.join() !== factor.id,
  );
  const beside = others.filter((row) => row.stratum === own.stratum);
  const moving = sum(beside.filter((row) => row.factorIds.includes(factor.id)));
  const errorOf = (runs: number): number => (runs - 1) * (count - 1) - (levels - 1) - moving;
  let runs = levels;
  while (errorOf(runs) < FEWEST_ERROR_DF) runs += levels;
  const pots = measured(plan);
  const { many } = unitWords[factor.unit];
  const stratum = `${many} in runs`;
  const row = (source: string, df: number, where: string, n: number, isError = false) => ({
    ...{ source, df, stratum: where, units: runs * n, isError },
    factorIds: source === factor.name ? [factor.id] : [],
  });
  // What stays on its shelf or tray in every run is a part of the differences between these.
  const staying = sum(beside) - moving;
  const skeleton: SkeletonRow[] = [
    row('runs', runs - 1, 'runs', count),
    ...(count - 1 > staying ? [row(many, count - 1 - staying, stratum, count)] : []),
    row(factor.name, levels - 1, stratum, count),
    ...beside.map((other) => ({ ...other, stratum, units: runs * count })),
    row(`between ${stratum}`, errorOf(runs), stratum, count, true),
    ...within(units.value.skeleton, own.stratum, count, runs),
  ];
  return {
    title: `Swap the levels and repeat: ${runs} runs`,
    says: `The same ${many}, the levels moved on by one each time, so that ${many} and runs can be told from ${factor.name}. It costs ${runs} times the weeks, not more room.`,
    pots: pots * runs,
    morePots: pots * (runs - 1),
    skeleton,
    errorDf: errorOf(runs),
    step: { do: 'repeatTrial', factorId: factor.id, runs },
  };
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

function asCase(plan: Plan, factor: Factor): WayOut {
  const units = unitsOfPlan(plan);
  const own = units.ok ? units.value.factors.find((one) => one.factorId === factor.id) : undefined;
  return {
    title: 'Report it as a case',
    says: `Grow it as it is and describe what was seen. No test, and no word about ${factor.name} beyond these ${unitWords[factor.unit].many}.`,
    pots: measured(plan),
    morePots: 0,
    skeleton: units.ok ? units.value.skeleton : [],
    errorDf: own?.errorDf ?? 0,
    step: { do: 'reportAsCase', factorId: factor.id },
  };
}
