import type { Plan } from '../../shared-types/plan';
import { bareOf, planAsTreated } from '../../renderer/derive';

/** The plan with its rack as treated where there is a layout, or as drawn. */
export const asAsked = (plan: Plan, bare: boolean): Plan =>
  bare ? bareOf(plan) : planAsTreated(plan);
