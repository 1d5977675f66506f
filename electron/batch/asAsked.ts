import type { Plan } from '../../shared-types/plan';
import { bareOf, planAsTreated } from '../../renderer/derive';
import { blindedSince } from '../../renderer/document/queries';

/** The plan with its rack as treated where there is a layout, or as drawn; while blinded as drawn. */
export const asAsked = (plan: Plan, bare: boolean): Plan =>
  bare || blindedSince(plan) !== null ? bareOf(plan) : planAsTreated(plan);

/** `{ blinded: '2026-03-02' }` in a result that keeps treatments to itself since that day. */
export function blindedInResult(plan: Plan): { blinded?: string } {
  const since = blindedSince(plan);
  return since === null ? {} : { blinded: since };
}
