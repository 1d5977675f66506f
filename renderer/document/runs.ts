import type { Plan } from '../../shared-types/plan';
import type { GrownOn, Run } from '../../shared-types/run';
import type { Trial } from '../../shared-types/trial/trial';

/** All runs of a plan in the order of time, as its file holds them. */
export function runsOf(plan: Plan): readonly Run[] {
  const known = runsByPlan.get(plan);
  if (known) return known;
  const later = (plan.laterRuns ?? []).map(standing);
  const runs = [...(plan.earlierRuns ?? []), ownRun(plan), ...later];
  runsByPlan.set(plan, runs);
  return runs;
}

/** Whether the trial is grown more than once. */
export const hasSeveralRuns = ({ earlierRuns, laterRuns }: Plan): boolean =>
  earlierRuns !== undefined || laterRuns !== undefined;

export const hasRun = (plan: Plan, runId: string): boolean =>
  plan.runId === runId || runsOf(plan).some(({ id }) => id === runId);

/** The place in time of the run in hand, counted from 1. */
export const runNumber = ({ earlierRuns = [] }: Pick<Plan, 'earlierRuns'>): number =>
  earlierRuns.length + 1;

/** `Run 2`: its place in time, counted from 1. */
export const runName = (plan: Plan, runId: string = plan.runId): string =>
  `Run ${runsOf(plan).findIndex(({ id }) => id === runId) + 1}`;

/** `Start of run 2`: what each run has of its own, named where there are several. */
export const ofRun = (plan: Plan, what: string): string =>
  hasSeveralRuns(plan) ? `${what} of ${runName(plan).toLowerCase()}` : what;

/** The plan's title, with the run in hand where there are several: for names of files. */
export const titleInRun = (plan: Plan): string =>
  hasSeveralRuns(plan) ? `${plan.title}, ${runName(plan).toLowerCase()}` : plan.title;

/**
 * The same plan seen from another of its runs: dates, layout, plants and records are that run's, and
 * the rack is the one it was grown on. Nothing of the others is lost, and the way back gives the very
 * plan it came from. Throws where the plan has no such run.
 */
export function seenFrom(plan: Plan, runId: string): Plan {
  if (plan.runId === runId) return plan;
  const views = viewsOf(plan);
  const known = views.get(runId);
  if (known) return known;
  const view = viewFrom(plan, runId);
  views.set(runId, view);
  viewsByPlan.set(view, views);
  return view;
}

/** The plan seen from each run that is drawn or recorded, in the order of time. */
export const seenFromEach = (plan: Plan): Plan[] =>
  runsOf(plan)
    .filter(({ layout, records }) => layout !== null || Object.keys(records.values).length > 0)
    .map(({ id }) => seenFrom(plan, id));

/** The run that is worked on: the last that is planted, else the first. */
export function runUnderWay(plan: Plan): string {
  const runs = runsOf(plan);
  const planted = runs.findLast(({ layout }) => (layout?.plantedAt ?? null) !== null);
  return (planted ?? runs[0])?.id ?? plan.runId;
}

/** The plan seen from its last run, as it is saved. */
export const seenFromLast = (plan: Plan): Plan =>
  seenFrom(plan, plan.laterRuns?.at(-1)?.id ?? plan.runId);

const runsByPlan = new WeakMap<Plan, readonly Run[]>();
// All views of one plan share a map, so that whoever looks back and forth finds what was there.
const viewsByPlan = new WeakMap<Plan, Map<string, Plan>>();

function viewsOf(plan: Plan): Map<string, Plan> {
  const views = viewsByPlan.get(plan) ?? new Map<string, Plan>([[plan.runId, plan]]);
  viewsByPlan.set(plan, views);
  return views;
}

/** What the plan's own rack is put aside in while an earlier run, grown on another, is looked at. */
const putAside = (plan: Plan): GrownOn | undefined => plan.laterRuns?.at(-1)?.grownOn;

function viewFrom(plan: Plan, runId: string): Plan {
  const runs = runsOf(plan);
  const at = runs.findIndex(({ id }) => id === runId);
  const run = runs[at];
  if (!run) throw new Error(`plan: it has no run ${runId}; one of its runs is expected`);
  const base = putAside(plan) ?? conditionsOf(plan);
  const later = runs.slice(at + 1);
  const last = later.at(-1);
  const aside = last && run.grownOn ? [...later.slice(0, -1), { ...last, grownOn: base }] : later;
  return flattened(plan, run, base, { earlier: runs.slice(0, at), later: aside });
}

/** A plan with one run's parts in their places. */
function flattened(
  plan: Plan,
  run: Run,
  base: GrownOn,
  { earlier, later }: { earlier: readonly Run[]; later: readonly Run[] },
): Plan {
  const {
    plants: _plants,
    swap: _swap,
    earlierRuns: _earlier,
    laterRuns: _later,
    ...shared
  } = plan;
  const { rack, light, flood, settings } = run.grownOn ?? base;
  const { plants, swap, layout, records } = run;
  return {
    ...shared,
    runId: run.id,
    rack,
    light,
    flood,
    layout,
    records,
    trial: plan.trial && trialIn(plan.trial, run, settings),
    ...(plants ? { plants } : {}),
    ...(swap ? { swap } : {}),
    ...(earlier.length > 0 ? { earlierRuns: [...earlier] } : {}),
    ...(later.length > 0 ? { laterRuns: [...later] } : {}),
  };
}

/** The trial with a run's dates, and with what its levels set then. */
function trialIn(trial: Trial, run: Run, settings: GrownOn['settings']): Trial {
  return {
    ...trial,
    factors: trial.factors.map((factor) => ({
      ...factor,
      levels: factor.levels.map(({ settings: _settings, ...level }) => {
        const own = settings[level.id];
        return own ? { ...level, settings: own } : level;
      }),
    })),
    measurements: trial.measurements.map((measurement) => ({
      ...measurement,
      date: run.measurementDates[measurement.id] ?? null,
    })),
    startDate: run.startDate,
    harvestDate: run.harvestDate,
  };
}

/** What the run that is looked at is grown on. */
export function conditionsOf({ rack, light, flood, trial }: Plan): GrownOn {
  const levels = (trial?.factors ?? []).flatMap((factor) => factor.levels);
  const settings = levels.flatMap(({ id, settings: own }) => (own ? [[id, own] as const] : []));
  return { rack, light, flood, settings: Object.fromEntries(settings) };
}

/** The run that is looked at, as the file holds it. */
function ownRun(plan: Plan): Run {
  const { runId: id, layout, plants, records, swap, trial } = plan;
  const dates = (trial?.measurements ?? []).flatMap((measurement) =>
    measurement.date === null ? [] : [[measurement.id, measurement.date] as const],
  );
  return {
    id,
    startDate: trial?.startDate ?? null,
    harvestDate: trial?.harvestDate ?? null,
    measurementDates: Object.fromEntries(dates),
    layout,
    ...(plants ? { plants } : {}),
    records,
    ...(swap ? { swap } : {}),
    ...(putAside(plan) ? { grownOn: conditionsOf(plan) } : {}),
  };
}

/** A later run without what was put aside in it. */
function standing(run: Run, at: number, { length }: readonly Run[]): Run {
  if (at < length - 1 || !run.grownOn) return run;
  const { grownOn: _aside, ...own } = run;
  return own;
}

/**
 * A plan with its other runs as given, seen from the run it is seen from now. `runs` are all of them in
 * the order of time; the one that is looked at is taken from the plan.
 */
export function withRuns(plan: Plan, runs: readonly Run[]): Plan {
  const at = runs.findIndex(({ id }) => id === plan.runId);
  // The last run has the plan's own rack, whichever was the last before.
  const aside = at === runs.length - 1 ? undefined : putAside(plan);
  const base = aside ?? conditionsOf(plan);
  if (at < 0) throw new Error(`plan: run ${plan.runId} is missing; all of its runs are expected`);
  const frozen = at < runs.length - 1 && runs[at]?.grownOn !== undefined;
  const own = ownRun(plan);
  const run = frozen ? { ...own, grownOn: conditionsOf(plan) } : { ...own };
  if (!frozen) Reflect.deleteProperty(run, 'grownOn');
  const later = runs.slice(at + 1);
  const last = later.at(-1);
  const kept = last && frozen ? [...later.slice(0, -1), { ...last, grownOn: base }] : later;
  return flattened(plan, run, base, { earlier: runs.slice(0, at), later: kept });
}

/** A plan after an edit that was made as seen from one of its runs. */
export const inRun = (plan: Plan, runId: string, edit: (seen: Plan) => Plan): Plan =>
  seenFrom(edit(seenFrom(plan, runId)), plan.runId);
