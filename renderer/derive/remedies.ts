import type { Notice } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { isDrawnOtherwise } from '../engine/treated';
import { bind, type BoundCommand } from '../document';
import { editFactor, setRackByLevels } from '../document/commands';

/** What a notice asks for, where one command does it. */
export interface Remedy {
  /** As its button says it. */
  label: string;
  command: BoundCommand;
}

/** The remedy of a notice that the program can apply to this plan; null where a person must act. */
export function remedyOf(notice: Notice, plan: Plan): Remedy | null {
  const factor = plan.trial?.factors.find(({ id }) => notice.about.includes(`factor:${id}`));
  if (factor && notice.kind === 'treatment-not-applied' && isDrawnOtherwise(notice)) {
    const command = bind(setRackByLevels, { factorId: factor.id });
    return { label: 'Set the rack as the levels say', command };
  }
  if (notice.kind !== 'treatment-confounded-with-light') return null;
  // What stands in the pots is not shuffled by a click.
  if (!factor || (plan.layout && plan.layout.plantedAt !== null)) return null;
  const { id: factorId, name } = factor;
  if (notice.severity === 'stop') {
    const patch = { kind: 'randomised' as const };
    return { label: `Have ${name} shuffled`, command: bind(editFactor, { factorId, patch }) };
  }
  if (notice.severity === 'note') {
    const patch = { appliedThrough: 'light' as const };
    return {
      label: `${name} is applied through the lamps`,
      command: bind(editFactor, { factorId, patch }),
    };
  }
  return null;
}
