import type { Command } from '../../../command';
import { change, forgetWhatIsGone } from '../../../edit';
import { sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import { toggleHoles } from '../../../edits/holes';

/** Leaves holes empty; where all of them are empty already, fills them again. */
export const toggleEmptyHoles: Command<{ potIds: readonly string[] }> = {
  name: 'toggleEmptyHoles',
  label: ({ potIds }, plan) =>
    `Change empty hole at ${sayThings(
      plan,
      potIds.map((id) => refTo('pot', id)),
    )}`,
  run: (plan, { potIds }) =>
    change(plan, (draft) => {
      toggleHoles(draft, potIds, 'empty');
      forgetWhatIsGone(draft);
    }),
};
