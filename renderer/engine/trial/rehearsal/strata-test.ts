import type { Factor } from '../../../../shared-types/trial';
import type { Partition } from '../partition';
import type { Site } from '../site';
import { sourcesOf, strataOf } from '../strata';
import { effectColumns, indicatorColumns } from './columns';
import type { LevelNumbers } from './columns';

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

const wholeOf = (site: Site): Partition => ({
  classOf: new Int32Array(site.pots.length),
  count: 1,
});

/** The planned analysis: each factor in its own stratum, after covariates, blocks, rows and columns. */
export function plannedStrata(
  site: Site,
  levels: LevelNumbers,
  covariates: readonly Float64Array[],
): StratumPlan[] {
  const { strata, crossing } = strataOf(site);
  const n = site.pots.length;
  let within = wholeOf(site);
  const coarser: Factor[] = [];
  return strata.map((stratum) => {
    const nuisance = crossing
      .filter((extra) => extra.stratum === stratum.name)
      .flatMap((extra) => indicatorColumns(extra.partition));
    const plan: StratumPlan = {
      units: stratum.partition,
      within,
      steps: [
        { factorIds: [], columns: [...covariates, ...nuisance] },
        ...sourcesOf(stratum.factors, coarser).map((source) => ({
          factorIds: source.map((factor) => factor.id),
          columns: effectColumns(source, levels, n),
        })),
      ],
    };
    within = stratum.partition;
    coarser.push(...stratum.factors);
    return plan;
  });
}

/** The mistaken analysis: every pot an independent unit, whatever shares a tray or shelf. */
export function potsAsUnits(
  site: Site,
  levels: LevelNumbers,
  covariates: readonly Float64Array[],
): StratumPlan[] {
  const n = site.pots.length;
  const steps = sourcesOf(site.trial.factors, []).map((source) => ({
    factorIds: source.map((factor) => factor.id),
    columns: effectColumns(source, levels, n),
  }));
  return [
    {
      units: site.unitOf.pot,
      within: wholeOf(site),
      steps: [{ factorIds: [], columns: [...covariates] }, ...steps],
    },
  ];
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
