import type { Command } from '../../../command';
import { change, forgetWhatIsGone, shelfIn } from '../../../edit';
import { setBoards } from '../../../edits/boards';
import { takeIdFrom } from '../../../ids';
import { nameOf, sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Stands the boards of one shelf on others too, in place of what boards they had. */
export const copyBoards: Command<{ fromShelfId: string; toShelfIds: readonly string[] }> = {
  name: 'copyBoards',
  label: ({ fromShelfId, toShelfIds }, plan) =>
    `Copy boards of ${nameOf(plan, refTo('shelf', fromShelfId))} to ${sayThings(
      plan,
      toShelfIds.map((id) => refTo('shelf', id)),
    )}`,
  run: (plan, { fromShelfId, toShelfIds }) =>
    change(plan, (draft) => {
      const model = shelfIn(plan, fromShelfId).boards ?? [];
      for (const shelfId of toShelfIds) {
        const copies = model.map((board) => ({ ...board, id: takeIdFrom(draft, 'board') }));
        setBoards(draft, shelfIn(draft, shelfId), copies);
      }
      forgetWhatIsGone(draft);
    }),
};
