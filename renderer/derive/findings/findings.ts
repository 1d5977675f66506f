import type { Plan } from '../../../shared-types/plan';
import {
  findingsOf,
  type FindingsInput,
  type FindingsOutcome,
  type RandomisationInput,
  type ResponseIndex,
} from '../../engine/findings';
import { wetDepthByPotOf } from '../flood/flood';
import { ppfdByPotOf } from '../light/potLight';
import { lightOverTrialOf, type LightOverTrial } from '../light/overTrial';
import type { PpfdByPot } from '../../engine/trial';
import { memo } from '../memo';
import { planAsGrown } from '../treated';
import { appliedTrialOf, blockByPotOf, startByPotOf, zonesOf } from '../trial/trial';

export interface FindingsChoice {
  /** null: the plan's primary measurement and index. */
  measurementId: string | null;
  index: ResponseIndex | null;
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
  const overTrial = lightOverTrialOf(plan);
  if (!overTrial) return { ppfdByPot: ppfdByPotOf(plan), lightOverTrial: false };
  const ppfdByPot = overTrial.ok ? receivedMemo(overTrial.value) : NONE;
  return { ppfdByPot, lightOverTrial: true };
}

/** Plain data for the findings; null without a trial. Fit to be sent to a worker. */
export function findingsInputOf(plan: Plan): FindingsInput | null {
  const trial = appliedTrialOf(plan);
  if (!trial) return null;
  return {
    rack: plan.rack,
    trial,
    zones: zonesOf(plan),
    layout: plan.layout,
    records: plan.records,
    ...lightReceivedOf(planAsGrown(plan)),
    ppfdAtDraw: ppfdByPotOf(plan),
    startByPot: startByPotOf(plan),
    blockByPot: blockByPotOf(plan),
    wetDepthByPot: trial.wetDepthCovariate ? wetDepthByPotOf(planAsGrown(plan)) : NONE,
  };
}

/** What a randomisation test starts from; null without a trial. */
export function randomisationInputOf(plan: Plan): RandomisationInput | null {
  const input = findingsInputOf(plan);
  return input && { ...input, ppfdAtDraw: ppfdByPotOf(plan), startByPot: startByPotOf(plan) };
}

const outcomeMemo = memo(
  (
    rack: FindingsInput['rack'],
    trial: FindingsInput['trial'],
    layout: FindingsInput['layout'],
    records: FindingsInput['records'],
    ppfdByPot: FindingsInput['ppfdByPot'],
    lightOverTrial: boolean,
    ppfdAtDraw: PpfdByPot,
    startByPot: ReadonlyMap<string, number>,
    blockByPot: FindingsInput['blockByPot'],
    wetDepthByPot: ReadonlyMap<string, number>,
    zones: FindingsInput['zones'],
    measurementId: string | null,
    index: ResponseIndex | null,
  ): FindingsOutcome =>
    findingsOf(
      {
        ...{ rack, trial, layout, records, ppfdByPot, lightOverTrial, ppfdAtDraw, startByPot },
        ...{ blockByPot, wetDepthByPot, zones },
      },
      { measurementId, ...(index ? { index } : {}) },
    ),
  8,
);

/** The findings of a plan, computed here and now (about a second for a full rack). */
export function findingsOfPlan(plan: Plan, choice: FindingsChoice = PRIMARY): FindingsOutcome {
  const input = findingsInputOf(plan);
  if (!input) return { ok: false, missing: 'No trial is planned yet.' };
  return outcomeMemo(
    input.rack,
    input.trial,
    input.layout,
    input.records,
    input.ppfdByPot,
    input.lightOverTrial ?? false,
    input.ppfdAtDraw ?? NONE,
    input.startByPot ?? NONE,
    input.blockByPot,
    input.wetDepthByPot ?? NONE,
    input.zones,
    choice.measurementId,
    choice.index,
  );
}
