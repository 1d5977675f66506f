import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';
import { measurementLabel } from '../../document/queries/names';
import { covariateCautions, positionWords, SCALE_WORDS } from '../../engine/findings';
import { grownByTray } from '../../engine/geometry';
import { lightUnitOf } from '../../engine/trial/lightWithin';
import { appliedTrialOf } from './trial';
import { fieldNumber, sayDay } from '../../words';

/** Each way of correcting for place, with the light that this plan's findings will take. */
export function positionWordsOf(plan: Plan): ReturnType<typeof positionWords> {
  return positionWords({
    lightOverTrial: (plan.light.rota ?? []).length > 0,
    lightUnit: lightUnitOf(appliedTrialOf(plan)?.factors ?? []),
  });
}

/** What must be said of covariates that a treatment of this plan can change. */
export function covariateCautionsOf(plan: Plan): string[] {
  const trial = appliedTrialOf(plan);
  const byTyped = grownByTray(plan.rack.shelves, plan.light.canopyAt);
  return trial ? covariateCautions(trial, byTyped) : [];
}

/** The rule of the analysis: what answers, on which scale, and what is allowed for. */
export function ruleWords(plan: Plan, trial: Trial): string {
  const answers = trial.measurements.find((m) => m.id === trial.primaryOutcomeId);
  const taken = {
    final: answers?.scale ? [`as ${SCALE_WORDS[answers.scale]}`] : [],
    gain: ['as the gain since the start'],
    'relative-growth-rate': ['as the relative growth rate'],
  }[trial.primaryIndex];
  const parts = [
    ...(answers ? [measurementLabel(answers), ...taken] : []),
    `place: ${positionWordsOf(plan)[trial.primaryPosition]}`,
    ...(trial.startCovariate ? ['the value at the start allowed for'] : []),
    ...(trial.wetDepthCovariate ? ['the depth of water allowed for'] : []),
    `risk of a false alarm ${fieldNumber(trial.alpha)}`,
  ];
  return `${parts.join('; ')}.`;
}

/** When the rule was fixed, and what was known of the answer by then. */
export function ruleFixedWords({ date, valuesThen }: NonNullable<Trial['analysisLocked']>): string {
  return valuesThen === 0
    ? `locked on ${sayDay(date)}, before any value was recorded`
    : `locked on ${sayDay(date)}, with ${valuesThen} ${valuesThen === 1 ? 'value' : 'values'} recorded already`;
}

/** What must be said before the rule can be fixed; null where nothing is missing. */
export function whyRuleIncomplete({ primaryOutcomeId }: Trial): string | null {
  return primaryOutcomeId === null
    ? 'Before the analysis can be locked, say in the trial which measurement is the main result.'
    : null;
}
