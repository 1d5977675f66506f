import type { Plan } from '../../../shared-types/plan';
import type { Findings } from '../../engine/findings';
export function NextTrial(_: { plan: Plan; findings: Findings }) {
  return null;
}
