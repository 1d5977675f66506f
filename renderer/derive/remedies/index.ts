import type { Mend, Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Application, Factor } from '../../../shared-types/trial/trial';
import { bind } from '../../document';
import { editFactor, setRackByLevels } from '../../document/commands';
import { floodRemedyOf } from './flood';
import { rackRemedyOf } from './rack';
import type { Remedy } from './remedy';
import { trialRemedyOf } from './trial';

export type { Remedy } from './remedy';

/** The remedy of a notice that the program can apply to this plan; null where a person must act. */
export function remedyOf(notice: Notice, plan: Plan): Remedy | null {
  const { mend, stage } = notice;
  if (mend) return mendOf(mend, notice, plan);
  switch (stage) {
    case 'rack':
      return rackRemedyOf(notice, plan);
    case 'flood':
      return floodRemedyOf(notice, plan);
    case 'light':
    case 'trial':
      return trialRemedyOf(notice, plan);
    case 'layout':
    case 'chart':
    case 'records':
    case 'findings':
      return null;
  }
}

function mendOf(mend: Mend, { about }: Notice, plan: Plan): Remedy | null {
  const factor = plan.trial?.factors.find(({ id }) => about.includes(`factor:${id}`));
  if (!factor) return null;
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
