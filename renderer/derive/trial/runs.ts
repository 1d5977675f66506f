import type { Plan } from '../../../shared-types/plan';
import type { Swap } from '../../../shared-types/run';
import { standingRecords } from '../../document/queries/standing';
import { runsOf, seenFrom } from '../../document/runs';
import type { BoundBy } from '../../engine/trial/bound';
import type { Runs } from '../../engine/trial/input';
import { memo } from '../memo';
import { standingAssignments } from '../treated';

const runsMemo = memo((count: number, swapped: string | null): Runs => ({ count, swapped }));

/** How often the trial is grown, or is to be, and what is swapped between its runs. */
export function grownOf(plan: Plan): Runs {
  const { earlierRuns = [], laterRuns = [] } = plan;
  const swap = plan.swap ?? [...earlierRuns, ...laterRuns].find((run) => run.swap)?.swap;
  return runsMemo(earlierRuns.length + 1 + laterRuns.length, swap?.factorId ?? null);
}

const boundMemo = memo(
  (swap: Swap, assignments: BoundBy['assignments']): BoundBy => ({
    swap,
    assignments,
  }),
  8,
);

/** By which draw the run's own is bound; undefined where it is drawn by itself, or that is not drawn. */
export function boundOf(plan: Plan): BoundBy | undefined {
  const { swap } = plan;
  if (!swap) return undefined;
  const { layout } = seenFrom(plan, swap.fromRun);
  return layout ? boundMemo(swap, standingAssignments({ layout })) : undefined;
}

/** The runs that are drawn together with the one in hand: those not grown yet that are bound to one draw. */
export function drawnTogether(plan: Plan): string[] {
  const first = plan.swap?.fromRun ?? plan.runId;
  return runsOf(plan)
    .filter(({ id, swap }) => id === first || swap?.fromRun === first)
    .filter(
      ({ layout, records }) =>
        (layout?.plantedAt ?? null) === null &&
        standingRecords({ trial: plan.trial, layout, records }) === null,
    )
    .map(({ id }) => id);
}
