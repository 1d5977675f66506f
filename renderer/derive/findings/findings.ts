import type { Plan } from '../../../shared-types/plan';
import {
  findingsOf,
  questionOf,
  type FindingsInput,
  type FindingsOutcome,
  type RandomisationInput,
  type ResponseIndex,
} from '../../engine/findings';
import { grownByTray } from '../../engine/geometry';
import { hasSeveralRuns, runName, runsOf, seenFrom } from '../../document/runs';
import { wetDepthByPotOf } from '../flood/flood';
import { ppfdByPotOf } from '../light/potLight';
import { lightByRotaOf, type LightOverTrial } from '../light/overTrial';
import { memo } from '../memo';
import { planAsGrown } from '../treated';
import { boundOf } from '../trial/runs';
import { appliedTrialOf, blockByPotOf, startByPotOf, zonesOf } from '../trial/trial';

export interface FindingsChoice {
  /** null: the plan's primary measurement and index. */
  measurementId: string | null;
  index: ResponseIndex | null;
  /** Where there are several runs: all of them together, or the one in hand. */
  runs?: 'together' | 'shown';
}

const NONE: ReadonlyMap<string, number> = new Map();

export const PRIMARY: FindingsChoice = { measurementId: null, index: null };

const receivedMemo = memo(
  ({ pots }: LightOverTrial): ReadonlyMap<string, number> =>
    new Map([...pots].map(([id, { ppfdUmol }]) => [id, ppfdUmol])),
);

/**
 * The light that each pot received under its treatment: as its tray stands, or the mean over the trial where a rota moves the
 * trays. By a rota that does not fit the rack nobody knows it.
 */
function lightReceivedOf(plan: Plan): Pick<FindingsInput, 'ppfdByPot' | 'lightOverTrial'> {
  const overTrial = lightByRotaOf(plan);
  if (!overTrial) return { ppfdByPot: ppfdByPotOf(plan), lightOverTrial: false };
  const ppfdByPot = overTrial.ok ? receivedMemo(overTrial.value) : NONE;
  return { ppfdByPot, lightOverTrial: true };
}

/** Plain data for the findings of one run; null without a trial. Fit to be sent to a worker. */
export function findingsInputOf(plan: Plan): FindingsInput | null {
  const trial = appliedTrialOf(plan);
  if (!trial) return null;
  const bound = boundOf(plan);
  return {
    ...(hasSeveralRuns(plan) ? { run: runName(plan) } : {}),
    ...(bound ? { bound } : {}),
    rack: plan.rack,
    trial,
    zones: zonesOf(plan),
    layout: plan.layout,
    records: plan.records,
    ...lightReceivedOf(planAsGrown(plan)),
    lightByTypedHeights: grownByTray(plan.rack.shelves, plan.light.canopyAt),
    ppfdAtDraw: ppfdByPotOf(plan),
    startByPot: startByPotOf(plan),
    blockByPot: blockByPotOf(plan),
    wetDepthByPot: trial.wetDepthCovariate ? wetDepthByPotOf(planAsGrown(plan)) : NONE,
  };
}

/** The same of all runs that anything was recorded in, or of the one in hand where that is chosen. */
export const chosenInputOf = memo(
  (plan: Plan, runs: FindingsChoice['runs']): FindingsInput | null => {
    const own = findingsInputOf(plan);
    if (!own || runs === 'shown' || !hasSeveralRuns(plan)) return own;
    const all = runsOf(plan)
      .filter(({ records }) => Object.keys(records.values).length > 0)
      .flatMap(({ id }) => findingsInputOf(seenFrom(plan, id)) ?? []);
    return { ...own, all };
  },
);

/** The plan seen from the run that answers, where one does by itself: chosen, or alone with values. */
export function planAnswered(plan: Plan, { measurementId, runs }: FindingsChoice): Plan {
  if (runs === 'shown' || !hasSeveralRuns(plan) || !plan.trial) return plan;
  const measurement = questionOf(plan.trial, measurementId)?.measurement;
  const having = runsOf(plan).filter(
    ({ records }) => Object.keys(records.values[measurement?.id ?? ''] ?? {}).length > 0,
  );
  const [only] = having;
  return having.length === 1 && only ? seenFrom(plan, only.id) : plan;
}

/** What a randomisation test starts from; null without a trial. */
export function randomisationInputOf(plan: Plan): RandomisationInput | null {
  const input = findingsInputOf(plan);
  return input && { ...input, ppfdAtDraw: ppfdByPotOf(plan), startByPot: startByPotOf(plan) };
}

const outcomeMemo = memo(
  (input: FindingsInput, measurementId: string | null, index: ResponseIndex | null) =>
    findingsOf(input, { measurementId, ...(index ? { index } : {}) }),
  8,
);

// The last inputs, so that a plan whose findings rest on the same parts finds its outcome.
const inputs: FindingsInput[] = [];

function known(input: FindingsInput): FindingsInput {
  const same = inputs.find((one) => sameInput(one, input));
  if (same) return same;
  inputs.unshift(input);
  inputs.length = Math.min(inputs.length, 8);
  return input;
}

/** Whether two inputs rest on the same parts of a plan. */
export function sameInput(a: FindingsInput | null, b: FindingsInput | null): boolean {
  if (!a || !b || a === b) return a === b;
  const { all: ours = [], ...mine } = a;
  const { all: others = [], ...theirs } = b;
  const keys = new Set([...Object.keys(mine), ...Object.keys(theirs)]) as Set<keyof typeof mine>;
  return (
    [...keys].every((key) => mine[key] === theirs[key]) &&
    ours.length === others.length &&
    ours.every((run, i) => sameInput(run, others[i] ?? null))
  );
}

/** The findings of a plan, computed here and now (about a second for a full rack). */
export function findingsOfPlan(plan: Plan, choice: FindingsChoice = PRIMARY): FindingsOutcome {
  const input = chosenInputOf(plan, choice.runs);
  if (!input) return { ok: false, missing: 'No trial is planned yet.' };
  return outcomeMemo(known(input), choice.measurementId, choice.index);
}
