import type { Command } from '../../command';
import { change, lampIn } from '../../edit';
import { sayThings } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { Lamp } from '../../../../shared-types/rack';

/** Changes figures of lamps, each its own: a field typed for several, or a proposed arrangement. */
export const editLamps: Command<{
  edits: readonly { lampId: string; patch: Partial<Omit<Lamp, 'id'>> }[];
}> = {
  name: 'editLamps',
  label: ({ edits }, plan) =>
    `Edit ${sayThings(
      plan,
      edits.map((edit) => refTo('lamp', edit.lampId)),
    )}`,
  run: (plan, { edits }) =>
    change(plan, (draft) => {
      for (const { lampId, patch } of edits) Object.assign(lampIn(draft, lampId).lamp, patch);
    }),
};
