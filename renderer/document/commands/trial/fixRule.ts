import { Refusal, type Command } from '../../command';
import { change, trialIn } from '../../edit';
import { mostStood } from '../../edits/storeValue';
import { sayDay } from '../../../words';

/**
 * Fixes the rule of the analysis, so that the answer cannot choose it: what answers, on which scale,
 * how position enters, what is allowed for and planned comparisons. How many values of the
 * measurement that answers had been recorded by then, cleared or not, is kept with the date.
 */
export const fixRule: Command<{ date: string }> = {
  name: 'fixRule',
  label: () => 'Lock the analysis',
  run: (plan, { date }) => {
    const { primaryOutcomeId, analysisLocked } = trialIn(plan);
    if (analysisLocked)
      throw new Refusal(`The analysis is locked since ${sayDay(analysisLocked.date)}.`);
    if (primaryOutcomeId === null) {
      throw new Refusal('Say first which measurement answers the question.');
    }
    const valuesThen = mostStood(plan.records, primaryOutcomeId);
    return change(plan, (draft) => {
      const trial = trialIn(draft);
      trial.analysisLocked = { date, valuesThen };
      for (const factor of trial.factors) {
        for (const contrast of factor.contrasts ?? []) contrast.preSpecified = true;
      }
    });
  },
};
