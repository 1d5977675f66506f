import type { Assignment } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';

/** Drops a draft's layout where a pot was drawn for something that is gone; it compared that. */
export function dropLayoutOf(draft: Plan, isGone: (levels: Assignment['levels']) => boolean): void {
  if (draft.layout?.assignments.some((assignment) => isGone(assignment.levels))) {
    draft.layout = null;
  }
}
