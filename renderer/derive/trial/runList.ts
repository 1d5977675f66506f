import type { Plan } from '../../../shared-types/plan';
import type { Run } from '../../../shared-types/run';
import type { Factor } from '../../../shared-types/trial/trial';
import { bind, together, type BoundCommand } from '../../document';
import { applyCommand } from '../../document/apply';
import { keepLayout, planRuns } from '../../document/commands';
import { standingRecords } from '../../document/queries/standing';
import { runName, runsOf } from '../../document/runs';
import { drawRuns } from '../layout/draw';
import { list, sayDay } from '../../words';
import { drawnTogether, grownOf } from './runs';
import type { Attempt } from './trial';

export type RunState = 'planned' | 'drawn' | 'planted' | 'harvested';

/** One run of the trial as a list shows it. */
export interface RunLine {
  id: string;
  /** `Run 2`. */
  name: string;
  /** First and last day as far as they are known, ISO 8601; '' where neither is. */
  dates: string;
  state: RunState;
}

/** All runs of the trial in the order of time; a trial that is grown once has one. */
export function runListOf(plan: Plan): RunLine[] {
  return runsOf(plan).map((run) => ({
    id: run.id,
    name: runName(plan, run.id),
    dates: datesOf(run),
    state: stateOf(plan, run),
  }));
}

function datesOf({ startDate, harvestDate, layout }: Run): string {
  const start = layout?.plantedAt ?? startDate;
  if (start === null) return harvestDate === null ? '' : `until ${sayDay(harvestDate)}`;
  return harvestDate === null
    ? `from ${sayDay(start)}`
    : `${sayDay(start)} to ${sayDay(harvestDate)}`;
}

function stateOf({ trial }: Plan, run: Run): RunState {
  const { layout, records } = run;
  const atHarvest = (trial?.measurements ?? []).filter((m) => m.timepoint === 'harvest');
  const weighed = atHarvest.some(({ id }) => Object.keys(records.values[id] ?? {}).length > 0);
  if (weighed) return 'harvested';
  const grows = (layout?.plantedAt ?? null) !== null || standingRecords({ trial, ...run }) !== null;
  if (grows) return 'planted';
  return layout ? 'drawn' : 'planned';
}

/** What a further run does with the levels that earlier runs swapped, if any did. */
export function furtherRun(plan: Plan): { runs: number; swappedFactorId: string | null } {
  const { count, swapped } = grownOf(plan);
  return { runs: count + 1, swappedFactorId: swapped };
}

/**
 * Factors whose levels a further run can swap: the one that earlier runs swap, or any whose units
 * hold more than one pot. A second one would be told from the first in none of the runs.
 */
export function swappableFactors(plan: Plan): Factor[] {
  const { swapped } = grownOf(plan);
  const factors = plan.trial?.factors ?? [];
  return factors.filter(({ id, unit }) => (swapped === null ? unit !== 'pot' : id === swapped));
}

/** Which runs are drawn with the one in hand as one act, and why; null where it is drawn alone. */
export function drawnWith(plan: Plan): string | null {
  const others = drawnTogether(plan).filter((id) => id !== plan.runId);
  const { swapped } = grownOf(plan);
  const factor = plan.trial?.factors.find(({ id }) => id === swapped);
  if (others.length === 0 || !factor) return null;
  const names = list(others.map((id) => runName(plan, id).toLowerCase()));
  return `Drawn as one act with ${names}: the levels of ${factor.name} are swapped between them.`;
}

/**
 * A further run, planned and drawn in one step: what is meant where another draw is wanted under
 * plants that are recorded already. The draw has a seed of its own.
 */
export function asNewRun(plan: Plan, seed: string, drawnAt: string): Attempt<BoundCommand> {
  const further = furtherRun(plan);
  const planned = applyCommand(plan, planRuns, further);
  if (!planned.ok) return planned;
  const drawn = drawRuns(planned.plan, seed, drawnAt);
  if (!drawn.ok) return drawn;
  const command = together(
    (before) => `${planRuns.label(further, before)} and draw it`,
    [bind(planRuns, further), bind(keepLayout, drawn.value)],
  );
  return { ok: true, value: command };
}
