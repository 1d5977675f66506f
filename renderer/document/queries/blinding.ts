import type { Plan } from '../../../shared-types/plan';
import { runsOf, seenFrom } from '../runs';

/** The day since when treatments are shown as codes alone; null: they are shown. */
export function blindedSince(plan: Plan): string | null {
  const own = plan.records.blinded?.since;
  if (own !== undefined) return own;
  // A run that exchanges the levels of a blinded one would tell them.
  return plan.swap ? blindedSince(seenFrom(plan, plan.swap.fromRun)) : null;
}

/** The same of any run of the trial: what takes runs together waits for all of them. */
export const anyBlindedSince = (plan: Plan): string | null =>
  blindedSince(plan) ??
  runsOf(plan)
    .map(({ id }) => blindedSince(seenFrom(plan, id)))
    .find((since) => since !== null) ??
  null;
