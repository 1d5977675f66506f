import { type BoundCommand, together } from '../../document';
import { useCallback } from 'react';
import { isThing } from '../../document/queries/refs';
import type { Plan } from '../../../shared-types/plan';
import { useDispatch, useSession } from '../../store';

/** Carries out commands as one undo step; what was added is selected when `select` is set. */
export function useAct() {
  const dispatch = useDispatch();
  const select = useSession((s) => s.select);
  return useCallback(
    (
      commands: BoundCommand | readonly BoundCommand[],
      options: { label?: (plan: Plan) => string; select?: boolean } = {},
    ): boolean => {
      const list = 'run' in commands ? [commands] : commands;
      const [first] = list;
      if (!first) return false;
      const label = options.label ?? ((plan: Plan) => first.label(null, plan));
      const done = dispatch(together(label, list), null);
      if (!done.ok) return false;
      if (options.select) {
        const things = done.added.filter(isThing);
        const shelves = things.filter((ref) => ref.startsWith('shelf:'));
        select(shelves.length > 0 ? shelves : things);
      }
      return true;
    },
    [dispatch, select],
  );
}
