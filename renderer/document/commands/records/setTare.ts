import { measurementTraits } from '../../../../shared-types/trial/measurement';
import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, measurementIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** Sets the weight of the dish for a measurement; 0: none. Values already kept stay. */
export const setTare: Command<{ measurementId: string; tare: number }> = {
  name: 'setTare',
  label: ({ measurementId }, plan) =>
    `Set the tare of ${nameOf(plan, refTo('measurement', measurementId))}`,
  run: (plan, { measurementId, tare }) => {
    if (!measurementTraits[measurementIn(plan, measurementId).kind].weighed) {
      throw new Refusal('Only a weight has a tare to take off.');
    }
    return change(plan, ({ records }) => {
      if (tare > 0) (records.tare ??= {})[measurementId] = tare;
      else if (records.tare) Reflect.deleteProperty(records.tare, measurementId);
    });
  },
};
