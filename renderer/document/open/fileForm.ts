import type { Plan } from '../../../shared-types/plan';
import type { PlanFile, Run } from '../../../shared-types/planFile';
import { contradict } from './consistency/contradiction';
import type { Contradiction } from './consistency/contradiction';

/** The plan with what belongs to its run put under that run, as its file holds it. */
export function toFile(plan: Plan): PlanFile {
  const { runId, layout, plants, records, trial, ...shared } = plan;
  const dates = (trial?.measurements ?? []).flatMap(({ id, date }) =>
    date === null ? [] : [[id, date] as const],
  );
  const run: Run = {
    id: runId,
    startDate: trial?.startDate ?? null,
    harvestDate: trial?.harvestDate ?? null,
    measurementDates: Object.fromEntries(dates),
    layout,
    ...(plants ? { plants } : {}),
    records,
  };
  return { ...shared, trial: trial && withoutDates(trial), runs: [run] };
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
  const { id: runId, startDate, harvestDate, measurementDates, layout, plants, records } = run;
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
  };
}

/** A date of the run that no measurement, or no trial, would take; null where there is none. */
export function findLostDate({ trial, runs }: PlanFile): Contradiction | null {
  const known = new Set((trial?.measurements ?? []).map(({ id }) => id));
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
  }
  return null;
}

/** Where the file holds what stands at this place of the plan. */
export const placeInFile = (place: string): string =>
  place
    .replace(/^(layout|plants|records)\b/, 'runs[0].$1')
    .replace(/^trial\.(startDate|harvestDate)$/, 'runs[0].$1');
