import { hasCovariance, joinedLayouts } from '../engine/findings';
import { rehearsalReport, type RunsPart } from '../engine/trial';
import type { JobInput, JobName, JobResult, Progress, RunningJob, StartJob } from './jobs';

/** Starts a job in parts side by side; null: it is not worth parting. */
type Parted<Name extends JobName> = (
  input: JobInput<Name>,
  tell: Progress,
  start: StartJob,
  hands: number,
) => RunningJob<JobResult<Name>> | null;

/** Each part draws the trial's design ready again: fewer runs than these are not worth it. */
const FEWEST_RUNS = 50;
/** Layouts take less each. */
const FEWEST_LAYOUTS = 2000;
/** More hands would be more copies of a large rack in memory. */
const MOST_HANDS = 8;

/** Jobs that can be done in parts, with the same figures however many. */
const parted: { [Name in JobName]?: Parted<Name> } = {
  rehearsal: (input, tell, start, hands) => {
    const parts = runsParts(input.runs, hands, FEWEST_RUNS);
    if (parts.length < 2) return null;
    return sideBySide(
      start,
      'rehearsalPart',
      parts.map((part) => ({ ...input, part })),
      (found) => rehearsalReport(input, found),
      tell,
    );
  },
  randomisationTest: ({ data, asked }, tell, start, hands) => {
    // Covariances of places are estimated once for all layouts.
    if (hasCovariance(data.trial.primaryPosition)) return null;
    const parts = runsParts(asked.runs, hands, FEWEST_LAYOUTS);
    if (parts.length < 2) return null;
    return sideBySide(
      start,
      'randomisationTest',
      parts.map((part) => ({ data, asked: { ...asked, part } })),
      joinedLayouts,
      tell,
    );
  },
  lightFields: (input, tell, start, hands) => {
    const { shelfIds } = input;
    const many = Math.min(hands, MOST_HANDS, shelfIds.length);
    if (many < 2) return null;
    return sideBySide(
      start,
      'lightFields',
      Array.from({ length: many }, (_, hand) => ({
        ...input,
        shelfIds: shelfIds.filter((_id, i) => i % many === hand),
      })),
      (found) => new Map(found.flatMap((fields) => [...fields])),
      tell,
    );
  },
};

/** Starts jobs as `start` does, those that fall into parts on as many hands as there are. */
export function inParts(start: StartJob, hands: number): StartJob {
  return (name, input, tell) =>
    parted[name]?.(input, tell, start, hands) ?? start(name, input, tell);
}

/** Runs 1 to `runs` in parts as even as can be. */
function runsParts(runs: number, hands: number, fewest: number): RunsPart[] {
  const many = Math.max(1, Math.min(hands, MOST_HANDS, Math.floor(runs / fewest)));
  return Array.from({ length: many }, (_, hand) => ({
    after: Math.floor((hand * runs) / many),
    upTo: Math.floor(((hand + 1) * runs) / many),
  }));
}

/** All parts at the same time. One that fails ends the others. */
function sideBySide<Part extends JobName, Result>(
  start: StartJob,
  name: Part,
  inputs: readonly JobInput<Part>[],
  join: (found: JobResult<Part>[]) => Result,
  tell: Progress,
): RunningJob<Result> {
  const told = inputs.map(() => ({ done: 0, total: 0 }));
  const jobs = inputs.map((input, i) =>
    start(name, input, (done, total) => {
      told[i] = { done, total };
      // Before every part has told how much it has to do, the sum would run back.
      if (told.every((one) => one.total > 0)) {
        tell(
          told.reduce((sum, one) => sum + one.done, 0),
          told.reduce((sum, one) => sum + one.total, 0),
        );
      }
    }),
  );
  const cancel = () => jobs.forEach((job) => job.cancel());
  const result = Promise.all(jobs.map((job) => job.result)).then(join);
  result.catch(cancel);
  return { result, cancel };
}
