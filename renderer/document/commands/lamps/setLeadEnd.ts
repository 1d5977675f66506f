import type { LeadEnd } from '../../../../shared-types/landmarks';
import type { Command } from '../../command';
import { change, lampIn } from '../../edit';
import { sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';

/** Says which end of lamps their lead comes out of; null: not said. */
export const setLeadEnd: Command<{ lampIds: readonly string[]; end: LeadEnd | null }> = {
  name: 'setLeadEnd',
  label: ({ lampIds }, plan) => {
    const lamps = lampIds.map((id) => refTo('lamp', id));
    return `Turn the lead of ${sayThings(plan, lamps)}`;
  },
  run: (plan, { lampIds, end }) =>
    change(plan, (draft) => {
      for (const id of lampIds) {
        const { lamp } = lampIn(draft, id);
        if (end === null) delete lamp.leadEnd;
        else lamp.leadEnd = end;
      }
    }),
};
