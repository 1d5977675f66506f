import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, lampKindIn } from '../../edit';
import { restatedOutput } from '../../../engine/lamps';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import { outputWords, type LampOutput } from '../../../../shared-types/rack';

/** States a lamp kind's output in another way; its light stays as it is. */
export const restateOutput: Command<{ kindId: string; as: LampOutput['kind'] }> = {
  name: 'restateOutput',
  label: ({ kindId, as }, plan) =>
    `State the output of ${nameOf(plan, refTo('lampKind', kindId))} as ${outputWords[as]}`,
  run: (plan, { kindId, as }) => {
    const kind = lampKindIn(plan, kindId);
    const restated = restatedOutput(kind, as);
    if (!restated.ok) {
      throw new Refusal(
        `The output of ${kind.name} cannot be given as ${outputWords[as]}: ${restated.reason}.`,
      );
    }
    if (kind.output === restated.output) return plan;
    return change(plan, (draft) => {
      lampKindIn(draft, kindId).output = restated.output;
    });
  },
};
