import type { Plan } from '../../../shared-types/plan';
import { blindedSince } from '../../document/queries/blinding';
import { nextTrialFrom } from '../../document/nextTrial';
import { learntWords, type Findings, type FindingsOutcome } from '../../engine/findings';
import { spreadOf, spreadTaken } from './earlierSpread';

/** The spread of the main result as measured; of anything else it says nothing of that. */
export function carriedSpreadOf(
  findings: Findings,
): { plantSd: number; unitSd?: number } | { missing: string } {
  if (findings.unplanned !== null) return { missing: 'This is not the main result.' };
  if (findings.question.index === 'relative-growth-rate') {
    return { missing: 'A rate has another unit than the main result.' };
  }
  const found = spreadOf({ ok: true, findings });
  return 'missing' in found ? found : spreadTaken(found);
}

/** The trial after a plan, with what its findings tell; null, or blinded: with the design alone. */
export function nextTrialAfter(plan: Plan, outcome: FindingsOutcome | null): Plan {
  if (!outcome?.ok || blindedSince(plan) !== null) return nextTrialFrom(plan);
  const spread = carriedSpreadOf(outcome.findings);
  return nextTrialFrom(plan, {
    learnt: learntWords(outcome.findings, plan.title),
    spread: 'missing' in spread ? null : spread,
  });
}
