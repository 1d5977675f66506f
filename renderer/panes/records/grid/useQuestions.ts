import type { Plan } from '../../../../shared-types/plan';
import { cellKey, openQuestions } from '../../../derive/records/valueQuestions';
import { acceptNotice } from '../../../document/commands';
import type { EntryBy } from '../../../store';
import { useDispatch } from '../../../store/context';
import { today } from '../../../ui';
import type { CellPlace } from './rowView';

const NO_QUESTIONS: ReturnType<typeof openQuestions> = new Map();

/** Which values are asked about, and of which cell the line above the grid speaks. */
export function useQuestions(
  plan: Plan,
  by: EntryBy,
  { current, done }: { current: CellPlace | null; done: CellPlace | null },
  say: (text: string | null) => void,
) {
  const dispatch = useDispatch();
  // The second person enters blind: what is odd about the first entry is not told.
  const questions = by === 'first' ? openQuestions(plan) : NO_QUESTIONS;
  const of = (cell: CellPlace | null) =>
    (cell && questions.get(cellKey(cell.measurementId, cell.potId))) ?? [];
  const here = of(current).length > 0;
  const about = here ? current : done;
  const asking = of(about);
  return {
    questions,
    asking,
    /** The cell that is asked about. */
    about,
    elsewhere: !here,
    answer: () => {
      for (const { kind, about: things } of asking) {
        const reason = 'Looked at again and found right';
        dispatch(acceptNotice, { kind, about: things, reason, date: today() });
      }
      if (asking.length > 0) say('Kept as it is; the report says that it was looked at again.');
    },
    /** The next cell in question after the current one; null: none. */
    next: (): CellPlace | null => {
      const cells = [...questions.values()].flatMap((list) => list.slice(0, 1));
      if (cells.length === 0) say('No value is in question.');
      const at = cells.findIndex(
        (q) => q.potId === current?.potId && q.measurementId === current.measurementId,
      );
      return cells[(at + 1) % Math.max(1, cells.length)] ?? null;
    },
  };
}
