import type { Plan } from '../../../shared-types/plan';
import { findingsInputOf, nextTrialAfter, PRIMARY, type StartJob } from '../../derive';
import { standingRecords } from '../../document/queries';
import { reasonOf } from '../../words';

/** The trial after a plan: its findings are computed for the spread that they tell. */
export async function findNext(plan: Plan, startJob: StartJob): Promise<Plan> {
  const data = standingRecords(plan) ? findingsInputOf(plan) : null;
  if (!data) return nextTrialAfter(plan, null);
  try {
    const { result } = startJob('findings', { data, choice: PRIMARY }, () => undefined);
    return nextTrialAfter(plan, await result);
  } catch (error) {
    // What cannot be analysed tells no spread; any other error is a mistake, and goes on.
    reasonOf(error);
    return nextTrialAfter(plan, null);
  }
}
