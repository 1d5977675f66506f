import type { Factor } from '../../../shared-types/trial/trial';
import type { Partition } from '../../../renderer/engine/trial/site/partition';
import type { Site } from '../../../renderer/engine/trial/site/site';
import { strataOf } from '../../../renderer/engine/trial/strata/strata';

/*
 * Sums of squares of a drawn layout, stratum by stratum, by sweeping out columns: a check of the
 * degrees of freedom and error terms that the engine counts without any data.
 */

/** Level number of one factor at every measured pot. */
export type LevelNumbers = ReadonlyMap<string, Int32Array>;

/** One tested source of one analysis. */
export interface SourceTest {
  factorIds: string[];
  df: number;
  dfError: number;
  /** One F for every response analysed; null where no error is left. */
  f: (number | null)[];
}

interface Step {
  factorIds: string[];
  columns: Float64Array[];
}

/** One stratum made ready: whose means are analysed, within what, and by which columns in order. */
export interface StratumPlan {
  units: Partition;
  within: Partition;
  steps: Step[];
}

/** Indicator columns of a partition's classes, less one. */
function indicatorColumns(partition: Partition): Float64Array[] {
  return Array.from({ length: partition.count - 1 }, (_, c) =>
    Float64Array.from(partition.classOf, (own) => (own === c ? 1 : 0)),
  );
}

/** Columns of a main effect or interaction: products of deviation contrasts of its factors. */
function effectColumns(
  factors: readonly Factor[],
  levels: LevelNumbers,
  pots: number,
): Float64Array[] {
  let columns = [new Float64Array(pots).fill(1)];
  for (const factor of factors) {
    const own = levels.get(factor.id);
    if (!own) throw new Error(`factor ${factor.name}: its levels at the pots are not known`);
    const last = factor.levels.length - 1;
    columns = columns.flatMap((column) =>
      Array.from({ length: last }, (_, level) =>
        column.map((value, i) => {
          const at = own[i];
          return at === level ? value : at === last ? -value : 0;
        }),
      ),
    );
  }
  return columns;
}

/** Each factor in its own stratum, after blocks, rows and columns. */
export function plannedStrata(site: Site, levels: LevelNumbers): StratumPlan[] {
  const { strata, crossing } = strataOf(site);
  return strata.map((stratum) => {
    const nuisance = crossing
      .filter((extra) => extra.stratum === stratum.name)
      .flatMap((extra) => indicatorColumns(extra.partition));
    const across = stratum.across ? indicatorColumns(stratum.across) : [];
    return {
      units: stratum.partition,
      within: stratum.within,
      steps: [
        { factorIds: [], columns: [...across, ...nuisance] },
        ...stratum.sources.map((source) => ({
          factorIds: source.map((factor) => factor.id),
          columns: effectColumns(source, levels, site.pots.length),
        })),
      ],
    };
  });
}

/** Level numbers of every factor from levels by pot id. */
export function levelNumbersOf(
  site: Site,
  levelsAt: (potId: string) => Readonly<Record<string, string>> | undefined,
): LevelNumbers {
  return new Map(
    site.trial.factors.map((factor) => {
      const ids = factor.levels.map((level) => level.id);
      const own = site.pots.map((pot) => ids.indexOf(levelsAt(pot.id)?.[factor.id] ?? ''));
      return [factor.id, Int32Array.from(own)] as const;
    }),
  );
}

/**
 * Analysis of unit means, stratum by stratum: sums of squares in the order of the steps, each
 * against what is left within the coarser units. Exact for balanced data; where plants died, unit
 * means count alike whatever their number of plants.
 */
export function testStrata(
  plans: readonly StratumPlan[],
  responses: readonly Float64Array[],
  alive: Uint8Array,
): SourceTest[] {
  return plans.flatMap((plan) => testStratum(plan, responses, alive));
}

function testStratum(
  plan: StratumPlan,
  responses: readonly Float64Array[],
  alive: Uint8Array,
): SourceTest[] {
  const means = unitMeans(plan, alive);
  const left = responses.map((response) => means.centred(response));
  const basis: Float64Array[] = [];
  let used = 0;
  const tests: SourceTest[] = [];
  const squares: number[][] = [];
  for (const step of plan.steps) {
    const gained = responses.map(() => 0);
    let df = 0;
    for (const column of step.columns) {
      const direction = newDirection(means.centred(column), basis);
      if (!direction) continue;
      basis.push(direction);
      df++;
      left.forEach((y, r) => {
        const part = dot(direction, y);
        gained[r] = (gained[r] ?? 0) + part * part;
        for (let i = 0; i < y.length; i++) y[i] = (y[i] ?? 0) - part * (direction[i] ?? 0);
      });
    }
    used += df;
    if (step.factorIds.length > 0) {
      tests.push({ factorIds: step.factorIds, df, dfError: 0, f: [] });
      squares.push(gained);
    }
  }
  const dfError = means.count - means.classes - used;
  const errors = left.map((y) => dot(y, y));
  return tests.map((test, s) => ({
    ...test,
    dfError,
    f: errors.map((error, r) =>
      dfError > 0 && test.df > 0 && error > 0
        ? (squares[s]?.[r] ?? 0) / test.df / (error / dfError)
        : null,
    ),
  }));
}

interface UnitMeans {
  /** Units with a living plant, and coarser units with such a unit. */
  count: number;
  classes: number;
  /** Unit means of a value at the pots, centred within the coarser units. */
  centred(values: Float64Array): Float64Array;
}

function unitMeans(plan: StratumPlan, alive: Uint8Array): UnitMeans {
  const { units, within } = plan;
  const plants = new Int32Array(units.count);
  const slot = new Int32Array(units.count).fill(-1);
  const classOfSlot: number[] = [];
  for (let i = 0; i < alive.length; i++) {
    if (!alive[i]) continue;
    const unit = units.classOf[i] ?? 0;
    if (plants[unit] === 0) {
      slot[unit] = classOfSlot.length;
      classOfSlot.push(within.classOf[i] ?? 0);
    }
    plants[unit] = (plants[unit] ?? 0) + 1;
  }
  const sizes = new Int32Array(within.count);
  for (const c of classOfSlot) sizes[c] = (sizes[c] ?? 0) + 1;
  const count = classOfSlot.length;
  return {
    count,
    classes: sizes.reduce((sum, size) => sum + (size > 0 ? 1 : 0), 0),
    centred(values) {
      const out = new Float64Array(count);
      for (let i = 0; i < alive.length; i++) {
        if (!alive[i]) continue;
        const unit = units.classOf[i] ?? 0;
        const at = slot[unit] ?? 0;
        out[at] = (out[at] ?? 0) + (values[i] ?? 0) / (plants[unit] ?? 1);
      }
      const sums = new Float64Array(within.count);
      for (let s = 0; s < count; s++) {
        const c = classOfSlot[s] ?? 0;
        sums[c] = (sums[c] ?? 0) + (out[s] ?? 0);
      }
      for (let s = 0; s < count; s++) {
        const c = classOfSlot[s] ?? 0;
        out[s] = (out[s] ?? 0) - (sums[c] ?? 0) / (sizes[c] ?? 1);
      }
      return out;
    },
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/** The column made orthogonal to the basis and scaled to 1; null where the basis spans it. */
function newDirection(column: Float64Array, basis: readonly Float64Array[]): Float64Array | null {
  const before = dot(column, column);
  if (before <= 1e-18) return null;
  let after = before;
  // Twice is enough (Kahan; Parlett 1980), and only where the first pass took most of the length.
  for (let pass = 0, last = Infinity; pass < 2 && after < 0.5 * last; pass++) {
    last = after;
    for (const direction of basis) {
      const part = dot(direction, column);
      if (part === 0) continue;
      for (let i = 0; i < column.length; i++) {
        column[i] = (column[i] ?? 0) - part * (direction[i] ?? 0);
      }
    }
    after = dot(column, column);
  }
  if (after < 1e-10 * before) return null;
  const scale = 1 / Math.sqrt(after);
  for (let i = 0; i < column.length; i++) column[i] = (column[i] ?? 0) * scale;
  return column;
}
