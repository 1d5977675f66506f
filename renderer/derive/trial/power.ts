import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';
import { termPowers, type TermPower } from '../../engine/trial/power';
import type { UnitsReport } from '../../engine/trial';
import { memo } from '../memo';
import { attempt, potsOf, unitsOfPlan, type Attempt } from './trial';

const powersMemo = memo((units: UnitsReport, trial: Trial, pots: number) =>
  attempt(() => termPowers(units, trial, pots)),
);

/** Power of every term in its own stratum; empty until the plan says what spread it expects. */
export function powersOf(plan: Plan): Attempt<TermPower[]> {
  const units = unitsOfPlan(plan);
  if (!units.ok) return units;
  if (!plan.trial) return { ok: true, value: [] };
  return powersMemo(units.value, plan.trial, potsOf(plan).filter((pot) => !pot.guard).length);
}
