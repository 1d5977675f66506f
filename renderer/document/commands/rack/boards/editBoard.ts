import type { Board } from '../../../../../shared-types/rack';
import type { Command } from '../../../command';
import { boardIn, change, forgetWhatIsGone, tenth } from '../../../edit';
import { setBoards } from '../../../edits/boards';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';

/**
 * Moves a board or changes what it is. Holes that it leaves are filled again, those that it comes to
 * stand over are emptied.
 */
export const editBoard: Command<{ boardId: string; patch: Partial<Omit<Board, 'id'>> }> = {
  name: 'editBoard',
  label: ({ boardId }, plan) => `Edit ${nameOf(plan, refTo('board', boardId))}`,
  run: (plan, { boardId, patch }) =>
    change(plan, (draft) => {
      const { shelf } = boardIn(draft, boardId);
      const boards = (shelf.boards ?? []).map((board) => {
        if (board.id !== boardId) return board;
        const edited = { ...board, ...patch };
        return { ...edited, atMm: tenth(edited.atMm) };
      });
      setBoards(draft, shelf, boards);
      forgetWhatIsGone(draft);
    }),
};
