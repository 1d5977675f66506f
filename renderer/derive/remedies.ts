import type { Notice } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import type { Application, Factor } from '../../shared-types/trial';
import { bind, type BoundCommand } from '../document';
import { editFactor, setRackByLevels } from '../document/commands';

/** What a notice asks for, where one command does it. */
export interface Remedy {
  /** As its button says it. */
  label: string;
  command: BoundCommand;
}

/** The remedy of a notice that the program can apply to this plan; null where a person must act. */
export function remedyOf({ mend, about }: Notice, plan: Plan): Remedy | null {
  const factor = plan.trial?.factors.find(({ id }) => about.includes(`factor:${id}`));
  if (!mend || !factor) return null;
  const { id: factorId, name } = factor;
  const edit = (label: string, patch: { kind?: Factor['kind']; appliedThrough?: Application }) =>
    // What stands in the pots is not shuffled by a click.
    (plan.layout?.plantedAt ?? null) === null
      ? { label, command: bind(editFactor, { factorId, patch }) }
      : null;
  switch (mend) {
    case 'set-rack-by-levels':
      return {
        label: 'Set the rack as the levels say',
        command: bind(setRackByLevels, { factorId }),
      };
    case 'shuffle':
      return edit(`Have ${name} shuffled`, { kind: 'randomised' });
    case 'apply-through-lamps':
      return edit(`${name} is applied through the lamps`, { appliedThrough: 'light' });
  }
}
