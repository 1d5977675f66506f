import type { Plan } from '../../../shared-types/plan';
import type { PlanFile } from '../../../shared-types/planFile';
import { runsOf, seenFromLast } from '../runs';
import { contradict } from './consistency/contradiction';
import type { Contradiction } from './consistency/contradiction';

/** The plan with what belongs to its runs put under them, as its file holds it. */
export function toFile(plan: Plan): PlanFile {
  const { runId, layout, plants, records, swap, earlierRuns, laterRuns, trial, ...shared } =
    seenFromLast(plan);
  return { ...shared, trial: trial && withoutDates(trial), runs: [...runsOf(plan)] };
}

function withoutDates(trial: NonNullable<Plan['trial']>): PlanFile['trial'] {
  const { startDate, harvestDate, measurements, ...rest } = trial;
  return { ...rest, measurements: measurements.map(({ date, ...own }) => own) };
}

/** The plan of a file as its last run has it. */
export function fromFile(file: PlanFile): Plan {
  const { runs, trial, ...shared } = file;
  const run = runs.at(-1);
  if (!run) throw new Error('plan file: it has no run; one is expected');
  const earlier = runs.slice(0, -1);
  const {
    id: runId,
    startDate,
    harvestDate,
    measurementDates,
    layout,
    plants,
    records,
    swap,
  } = run;
  const measurements = (trial?.measurements ?? []).map((own) => ({
    ...own,
    date: measurementDates[own.id] ?? null,
  }));
  return {
    ...shared,
    runId,
    trial: trial && { ...trial, measurements, startDate, harvestDate },
    layout,
    ...(plants ? { plants } : {}),
    records,
    ...(swap ? { swap } : {}),
    ...(earlier.length > 0 ? { earlierRuns: earlier } : {}),
  };
}

/** What of the runs by themselves contradicts the rest; null where nothing does. */
export function findRunFault({ trial, runs }: PlanFile): Contradiction | null {
  const known = new Set((trial?.measurements ?? []).map(({ id }) => id));
  const seen = new Set<string>();
  for (const [i, run] of runs.entries()) {
    const lost = Object.keys(run.measurementDates).find((id) => !known.has(id));
    if (lost !== undefined) {
      return contradict(
        ['runs', i, 'measurementDates', lost],
        'a measurement that the trial does not have',
        'one of its measurements',
      );
    }
    for (const key of ['startDate', 'harvestDate'] as const) {
      if (trial === null && run[key] !== null) {
        return contradict(['runs', i, key], run[key], 'null without a trial');
      }
    }
    if (seen.has(run.id)) {
      return contradict(['runs', i, 'id'], `"${run.id}" once more`, 'every run once');
    }
    if (run.swap && !seen.has(run.swap.fromRun)) {
      const found = `"${run.swap.fromRun}"`;
      return contradict(['runs', i, 'swap', 'fromRun'], found, 'an earlier run');
    }
    if (run.swap && !trial?.factors.some(({ id }) => id === run.swap?.factorId)) {
      const found = `"${run.swap.factorId}"`;
      return contradict(['runs', i, 'swap', 'factorId'], found, 'a factor of the trial');
    }
    if (run.grownOn && i === runs.length - 1) {
      const found = 'a rack of its own on the last run';
      return contradict(['runs', i, 'grownOn'], found, "the plan's own rack");
    }
    seen.add(run.id);
  }
  return null;
}

/** Where the file holds what stands at this place of the plan, seen from the run of this number. */
export const placeInFile = (place: string, run: number, grownOn: boolean): string =>
  place
    .replace(/^(layout|plants|records)\b/, `runs[${run}].$1`)
    .replace(/^trial\.(startDate|harvestDate)$/, `runs[${run}].$1`)
    .replace(/^(rack|light|flood)\b/, grownOn ? `runs[${run}].grownOn.$1` : '$1');
