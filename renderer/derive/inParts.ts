import { hasCovariance, joinedLayouts } from '../engine/findings';
import { rehearsalReport, type RunsPart } from '../engine/trial';
import type { ShelvesAsked } from './light/potLight';
import type { JobInput, JobName, JobResult, Progress, RunningJob, StartJob } from './jobs';

/** Who does the parts. */
interface Hands {
  start: StartJob;
  many: number;
  /** How many times as much work as a window's is worth another hand, of a model that takes its time. */
  costly: number;
  /** The same of one that is quick: a hand warms up for longer than its part would take. */
  costlyQuick: number;
}

/** Starts a job in parts side by side; null: it is not worth parting. */
type Parted<Name extends JobName> = (
  input: JobInput<Name>,
  tell: Progress,
  hands: Hands,
) => RunningJob<JobResult<Name>> | null;

/** Each part draws the trial's design ready again: fewer runs than these are not worth it. */
const FEWEST_RUNS = 50;
/** Layouts take less each. */
const FEWEST_LAYOUTS = 2000;
/** Of shelves that share their light with no other. */
const FEWEST_LIT = 6;
/** More hands would be more copies of a large rack in memory. */
const MOST_HANDS = 8;

/** Jobs that can be done in parts, with the same figures however many. */
const parted: { [Name in JobName]?: Parted<Name> } = {
  rehearsal: (input, tell, hands) => {
    const { costly, costlyQuick } = hands;
    const slow = hasCovariance(input.trial.primaryPosition);
    const parts = runsParts(input.runs, hands, FEWEST_RUNS * (slow ? costly : costlyQuick));
    if (parts.length < 2) return null;
    return sideBySide(
      hands.start,
      'rehearsalPart',
      parts.map((part) => ({ ...input, part })),
      (found) => rehearsalReport(input, found),
      tell,
    );
  },
  randomisationTest: ({ data, asked }, tell, hands) => {
    // Covariances of places are estimated once for all layouts.
    if (hasCovariance(data.trial.primaryPosition)) return null;
    const parts = runsParts(asked.runs, hands, FEWEST_LAYOUTS * hands.costlyQuick);
    if (parts.length < 2) return null;
    return sideBySide(
      hands.start,
      'randomisationTest',
      parts.map((part) => ({ data, asked: { ...asked, part } })),
      joinedLayouts,
      tell,
    );
  },
  lightFields: (input, tell, hands) => {
    const parts = shelvesParts(input, hands, 1);
    if (parts.length < 2) return null;
    return sideBySide(hands.start, 'lightFields', parts, joinedShelves, tell);
  },
  lightFigures: (input, tell, hands) => {
    const parts = shelvesParts(input, hands, FEWEST_LIT);
    if (parts.length < 2) return null;
    return sideBySide(hands.start, 'lightFigures', parts, joinedShelves, tell);
  },
};

/** Starts jobs as `start` does, those that fall into parts on as many hands as there are. */
export function inParts(start: StartJob, many: number): StartJob {
  return (name, input, tell) =>
    parted[name]?.(input, tell, { start, many, costly: 1, costlyQuick: 1 }) ??
    start(name, input, tell);
}

/** The same of hands that are slow to come: what is not worth parting is done as `here` does. */
export function inCostlyParts(start: StartJob, many: number, here: StartJob): StartJob {
  return (name, input, tell) =>
    parted[name]?.(input, tell, { start, many, costly: 5, costlyQuick: 40 }) ??
    here(name, input, tell);
}

function shelvesParts(
  input: ShelvesAsked,
  { many, costly }: Hands,
  fewest: number,
): ShelvesAsked[] {
  const { shelfIds } = input;
  const parts = Math.min(many, MOST_HANDS, Math.floor(shelfIds.length / (costly * fewest)));
  return Array.from({ length: parts }, (_, hand) => ({
    ...input,
    shelfIds: shelfIds.filter((_id, i) => i % parts === hand),
  }));
}

const joinedShelves = <Found>(found: readonly ReadonlyMap<string, Found>[]) =>
  new Map(found.flatMap((some) => [...some]));

/** Runs 1 to `runs` in parts as even as can be. */
function runsParts(runs: number, hands: Hands, fewest: number): RunsPart[] {
  const worth = Math.floor(runs / fewest);
  const many = Math.max(1, Math.min(hands.many, MOST_HANDS, worth));
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
