import { Refusal, type Command } from '../../command';
import { change, trialIn } from '../../edit';
import { forgetLevels } from '../../edits/forgetLevels';

/** Drops the trial and a layout drawn for it. Refused while values hang on its measurements. */
export const dropTrial: Command<Record<never, never>> = {
  name: 'dropTrial',
  label: (_args, plan) => (plan.layout ? 'Drop the trial and its layout' : 'Drop the trial'),
  run: (plan) => {
    trialIn(plan);
    const { values, second } = plan.records;
    if ([values, second].some((list) => Object.keys(list).length > 0)) {
      throw new Refusal('The trial has recorded values; clear them before dropping it.');
    }
    return change({ ...plan, trial: null, layout: null }, (draft) => {
      forgetLevels(draft, () => true);
      Reflect.deleteProperty(draft.records, 'tare');
    });
  },
};
