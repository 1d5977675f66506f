import type { Plan } from '../../../../shared-types/plan';
import type { Check, Contradiction } from './contradiction';
import { floodNamesWhatIsThere } from './flood';
import { idsAreUnique } from './ids';
import { layoutFitsTrial, plantsFitTrial, recordsFitTrial } from './layout';
import { kindsAndLightAgree, rackHangsTogether, rotaHangsTogether } from './rack';
import { trialHangsTogether } from './trial';

export type { Contradiction } from './contradiction';
export { lowestNextId } from './ids';

/** Every check with the parts of the plan that it reads. */
const checks: readonly { check: Check; reads: readonly (keyof Plan)[] }[] = [
  {
    check: idsAreUnique,
    reads: ['nextId', 'rack', 'light', 'flood', 'trial', 'layout', 'records'],
  },
  { check: rackHangsTogether, reads: ['rack'] },
  { check: kindsAndLightAgree, reads: ['rack', 'light'] },
  { check: rotaHangsTogether, reads: ['rack', 'light'] },
  { check: floodNamesWhatIsThere, reads: ['rack', 'flood'] },
  { check: trialHangsTogether, reads: ['rack', 'flood', 'trial'] },
  { check: layoutFitsTrial, reads: ['rack', 'trial', 'layout'] },
  { check: plantsFitTrial, reads: ['trial', 'plants'] },
  { check: recordsFitTrial, reads: ['trial', 'records'] },
];

/**
 * The first contradiction between parts of a plan that its schema cannot see: repeated ids, names
 * of things that are not there, ranges upside down. Pots without a hole in the records are no
 * contradiction but a notice: what was measured stays. `sound`: a plan that has none, whose parts
 * need no second look where this one still has them.
 */
export function findInconsistency(plan: Plan, sound?: Plan): Contradiction | null {
  for (const { check, reads } of checks) {
    if (sound && reads.every((part) => plan[part] === sound[part])) continue;
    const found = check(plan, sound);
    if (found) return found;
  }
  return null;
}
