import type { Command } from '../../../command';
import { change } from '../../../edit';
import { sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { toggleHoles } from '../../../edits/holes';

/** Makes pots guard pots; where all of them are picked already, makes them test pots again. */
export const toggleGuards: Command<{ potIds: readonly string[] }> = {
  name: 'toggleGuards',
  label: ({ potIds }, plan) =>
    `Change guard ${sayThings(
      plan,
      potIds.map((id) => refTo('pot', id)),
    )}`,
  run: (plan, { potIds }) =>
    change(plan, (draft) => {
      toggleHoles(draft, potIds, 'guards');
    }),
};
