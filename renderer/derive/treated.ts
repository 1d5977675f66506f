import type { Layout } from '../../shared-types/layout';
import type { Plan } from '../../shared-types/plan';
import type { Trial } from '../../shared-types/trial/trial';
import type { PottedFlood } from '../engine/flood';
import {
  rackAsTreated,
  setupList,
  type RackAsTreated,
  type SetupList,
  type TreatedView,
} from '../engine/treated';
import { memo } from './memo';

/** A plan with its rack and flooding as the treatments make them. */
export interface TreatedPlan extends Plan {
  flood: PottedFlood | null;
  /** As drawn: what blocks and draws read, whatever plan they are handed. */
  bare: Plan;
}

/** The plan whose rack is the one as drawn. */
export function bareOf(plan: Plan & { bare?: Plan }): Plan {
  return plan.bare ?? plan;
}

// By what a treated rack follows from alone: a record changes none of it.
const rackMemo = memo(
  (
    rack: Plan['rack'],
    flood: Plan['flood'],
    factors: Trial['factors'],
    assignments: Layout['assignments'],
    as: TreatedView['as'],
    factorId: string,
    levelId: string,
  ): RackAsTreated =>
    rackAsTreated(
      { rack, flood, factors, assignments },
      as === 'level' ? { as, factorId, levelId } : { as },
    ),
  6,
);

const NOBODY: Layout['assignments'] = [];

/** What each pot was given; nothing before a draw, and then always the same list. */
export const standingAssignments = ({ layout }: Pick<Plan, 'layout'>): Layout['assignments'] =>
  layout?.assignments ?? NOBODY;

const planMemo = memo((plan: Plan, { rack, flood }: RackAsTreated): Plan | TreatedPlan => {
  const same = rack === plan.rack && flood === plan.flood;
  return same ? plan : { ...plan, rack, flood, bare: plan };
}, 8);

/** The rack as drawn before a draw, and as treated from then on. */
export const standingView = ({ layout }: Pick<Plan, 'layout'>): TreatedView =>
  layout ? { as: 'treated' } : { as: 'bare' };

/**
 * The plan with its rack as a view has it, to be looked at and never to be saved; the plan itself
 * where that is the rack as drawn.
 */
export function planAsTreated(plan: Plan, view: TreatedView = standingView(plan)): Plan {
  const from = bareOf(plan);
  const { rack, flood, trial } = from;
  if (view.as === 'bare' || !trial) return from;
  const at = view.as === 'level' ? view : { factorId: '', levelId: '' };
  const assignments = standingAssignments(from);
  return planMemo(
    from,
    rackMemo(rack, flood, trial.factors, assignments, view.as, at.factorId, at.levelId),
  );
}

/** Light and water that the plants really get: under the levels as drawn, or as placed by hand. */
export const planAsGrown = (plan: Plan): Plan => planAsTreated(plan, { as: 'treated' });

const setupMemo = memo(
  (
    rack: Plan['rack'],
    flood: Plan['flood'],
    factors: Trial['factors'],
    assignments: Layout['assignments'],
    light: Plan['light'],
    display: Plan['display'],
  ) => setupList({ rack, flood, factors, assignments, light, display }),
);

/** What to hang, to fill and to mix for the layout; null before there is one. */
export function setupListOf(plan: Plan): SetupList | null {
  const { rack, flood, trial, layout, light, display } = bareOf(plan);
  if (!trial || !layout) return null;
  return setupMemo(rack, flood, trial.factors, layout.assignments, light, display);
}
