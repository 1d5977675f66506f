import type { Board } from '../../../../../shared-types/rack';
import type { Command } from '../../../command';
import { change, forgetWhatIsGone, shelfIn } from '../../../edit';
import { setBoards } from '../../../edits/boards';
import { takeIdFrom } from '../../../ids';
import { sayThings } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/** Stands a board on each of some shelves; pots that it would cut leave their holes empty. */
export const addBoard: Command<{ shelfIds: readonly string[]; board: Omit<Board, 'id'> }> = {
  name: 'addBoard',
  label: ({ shelfIds }, plan) =>
    `Add board to ${sayThings(
      plan,
      shelfIds.map((id) => refTo('shelf', id)),
    )}`,
  run: (plan, { shelfIds, board }) =>
    change(plan, (draft) => {
      for (const shelfId of shelfIds) {
        const shelf = shelfIn(draft, shelfId);
        const added = { id: takeIdFrom(draft, 'board'), ...board };
        setBoards(draft, shelf, [...(shelf.boards ?? []), added]);
      }
      forgetWhatIsGone(draft);
    }),
};
