import type { Notice } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { bind, type BoundCommand } from '../document';
import { editFactor } from '../document/commands';

/** What a notice asks for, where one command does it. */
export interface Remedy {
  /** As its button says it. */
  label: string;
  command: BoundCommand;
}

/** The remedy of a notice that the program can apply to this plan; null where a person must act. */
export function remedyOf(notice: Notice, plan: Plan): Remedy | null {
  if (notice.kind !== 'treatment-confounded-with-light') return null;
  const factor = plan.trial?.factors.find(({ id }) => notice.about.includes(`factor:${id}`));
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
