import type { Plan } from '../../shared-types/plan';
import type { Trial } from '../../shared-types/trial/trial';
import type { Measurement } from '../../shared-types/trial/measurement';
import { smallBasil } from './smallBasil';

type TrialPlan = Plan & { trial: Trial };

/** Where a pot stands in the list of the layout, and which level of each factor it has, from 0. */
interface Grown {
  i: number;
  feed: number;
  cultivar: number;
}

/** Between 0 and 1, without pattern over the pots; another list for each name. */
function noise(i: number, name: number): number {
  const mixed = Math.imul(
    Math.imul(i + 1, 0x9e3779b1) ^ Math.imul(name + 1, 0x85ebca6b),
    0xc2b2ae35,
  );
  const whole = Math.imul(mixed ^ (mixed >>> 15), 0x27d4eb2f);
  return ((whole ^ (whole >>> 13)) >>> 0) / 2 ** 32;
}

/** What plants differ by: about normal, with mean 0 and standard deviation 1. */
const plant = (i: number, name = 0): number =>
  [0, 1, 2].reduce((sum, k) => sum + noise(i, 7 * name + k), -1.5) * 2;

/** A small trial with its values of one measurement by a rule. */
export function harvested(
  plan: TrialPlan,
  measurementId: string,
  value: (pot: Grown) => number,
): TrialPlan {
  const [feed, cultivar] = plan.trial.factors;
  const step = (factor: typeof feed, levels: Readonly<Record<string, string>>) =>
    factor?.levels.findIndex(({ id }) => id === levels[factor.id]) ?? 0;
  const values = Object.fromEntries(
    (plan.layout?.assignments ?? []).map(({ potId, levels }, i) => [
      potId,
      Math.round(10 * value({ i, feed: step(feed, levels), cultivar: step(cultivar, levels) })) /
        10,
    ]),
  );
  const records = { ...plan.records, values: { ...plan.records.values, [measurementId]: values } };
  return { ...plan, records };
}

/** The small trial with starts that no treatment, and nothing at harvest, goes with. */
function evenlyStarted(): TrialPlan {
  const plan = smallBasil();
  const start = startOf(plan);
  return harvested(plan, start.id, ({ i }) => 2.5 + 0.2 * plant(i, 1));
}

function startOf({ trial }: TrialPlan): Measurement {
  const start = trial.measurements.find((m) => m.kind === 'weight' && m.timepoint === 'start');
  if (!start) throw new Error('the example weighs plants at the start');
  return start;
}

const mainOf = ({ trial }: TrialPlan): string => trial.primaryOutcomeId ?? '';

/** Strong feed helps the first cultivar alone. */
export function interacting(): TrialPlan {
  const plan = evenlyStarted();
  return harvested(
    plan,
    mainOf(plan),
    ({ i, feed, cultivar }) =>
      34 + 3 * plant(i) + (feed === 2 ? 3 : 0) + (feed === 2 && cultivar === 0 ? 18 : 0),
  );
}

/** Neither feed nor cultivar did anything. */
export function nothingFound(): TrialPlan {
  const plan = evenlyStarted();
  return harvested(plan, mainOf(plan), ({ i }) => 38 + 4 * plant(i));
}

/** Leaves are the main result, as counts. */
export function counted(): TrialPlan {
  const plan = evenlyStarted();
  const leaves = plan.trial.measurements.find(
    ({ kind, timepoint }) => kind === 'count' && timepoint === 'harvest',
  );
  if (!leaves) throw new Error('the example counts leaves at harvest');
  const measurements = plan.trial.measurements.map((m) =>
    m === leaves ? { ...m, scale: 'quasi-poisson' as const } : m,
  );
  const trial = { ...plan.trial, measurements, primaryOutcomeId: leaves.id };
  const started = plan.trial.measurements.find(
    ({ kind, timepoint }) => kind === 'count' && timepoint === 'start',
  );
  const even = started ? harvested(plan, started.id, ({ i }) => Math.round(4 + plant(i, 2))) : plan;
  return harvested({ ...even, trial }, leaves.id, ({ i, feed, cultivar }) =>
    Math.round(9 + 2 * feed + cultivar / 2 + 2 * plant(i)),
  );
}

const DAYS = [9, 18, 26] as const;

/**
 * Five dates: plants grow by a logistic curve, strong feed sooner than weak, and all but stop after
 * the fourth.
 */
export function overTime(): TrialPlan {
  const plan = evenlyStarted();
  const start = startOf(plan);
  const interim = DAYS.map((day, k) => ({
    ...start,
    id: `i${k + 1}`,
    timepoint: 'interim' as const,
    date: dayAfter(plan.trial.startDate ?? '', day),
  }));
  const measurements = [start, ...interim, ...plan.trial.measurements.filter((m) => m !== start)];
  let grown: TrialPlan = { ...plan, trial: { ...plan.trial, measurements } };
  const rounds = interim.map((m, k) => [m.id, DAYS[k] ?? 0] as const);
  for (const [id, day] of [...rounds, [mainOf(plan), 35] as const]) {
    grown = harvested(grown, id, ({ i, feed, cultivar }) => {
      const begin = 2.5;
      const end = 42 + 4 * feed + cultivar + 3 * plant(i);
      const share = 1 / (1 + Math.exp(-(day - (16 - feed)) / 2.4));
      return begin + (end - begin) * share + 0.4 * noise(i, 20 + day);
    });
  }
  return grown;
}

function dayAfter(date: string, days: number): string {
  const at = new Date(`${date}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}
