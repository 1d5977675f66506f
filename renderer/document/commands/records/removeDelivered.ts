import type { Command } from '../../command';
import { change } from '../../edit';
import { forgetDay } from '../../edits/forgetDay';
import { deliveredUnitName } from '../../queries/deliveredUnits';
import { sayDay } from '../../../words';

/** Takes all figures of a unit's day out of the log. */
export const removeDelivered: Command<{ unitId: string; date: string }> = {
  name: 'removeDelivered',
  label: ({ unitId, date }, plan) =>
    `Remove the log of ${deliveredUnitName(plan, unitId)} on ${sayDay(date)}`,
  run: (plan, { unitId, date }) =>
    change(plan, ({ records }) => {
      forgetDay(records, unitId, date);
    }),
};
