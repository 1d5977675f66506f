import type { Plan } from '../../../shared-types/plan';
import { runName } from '../../document/runs';
import type { Findings } from '../../engine/findings';

/**
 * The rack's pot that a row of the findings is, by id, as far as the plan shows it: where runs are taken
 * together, those of the run in hand; null for rows of the others.
 */
export function potOnRack(plan: Plan): (pot: Findings['pots'][number]) => string | null {
  const run = runName(plan);
  return ({ id, of }) => (of === undefined ? id : of.run === run ? of.potId : null);
}
