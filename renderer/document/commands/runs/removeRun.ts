import { Refusal } from '../../command';
import type { Command } from '../../command';
import { standingRecords } from '../../queries/standing';
import { hasSeveralRuns, runName, runsOf, seenFrom, withRuns } from '../../runs';
import { sayDay } from '../../../words';

/** Takes back a run that was planned and never grown; a plan seen from it is then seen from the one before. */
export const removeRun: Command<{ runId: string }> = {
  name: 'removeRun',
  label: ({ runId }, plan) => `Remove ${runName(plan, runId).toLowerCase()}`,
  run: (plan, { runId }) => {
    const runs = runsOf(plan);
    const at = runs.findIndex(({ id }) => id === runId);
    const run = runs[at];
    if (!run || !hasSeveralRuns(plan)) throw new Refusal('A trial keeps one run at least.');
    const name = runName(plan, runId);
    if (run.layout && run.layout.plantedAt !== null) {
      throw new Refusal(`${name} is planted since ${sayDay(run.layout.plantedAt)}; it stays.`);
    }
    if (
      standingRecords({ ...seenFrom(plan, runId) }) !== null ||
      Object.keys(run.records.values).length > 0
    ) {
      throw new Refusal(`${name} holds records; clear them first.`);
    }
    const bound = runs.find(({ swap }) => swap?.fromRun === runId);
    if (bound) {
      throw new Refusal(
        `${runName(plan, bound.id)} takes its levels from ${name.toLowerCase()}; remove that one first.`,
      );
    }
    const beside = runs[at - 1] ?? runs[at + 1];
    if (!beside) throw new Refusal('A trial keeps one run at least.');
    return withRuns(
      seenFrom(plan, plan.runId === runId ? beside.id : plan.runId),
      runs.filter(({ id }) => id !== runId),
    );
  },
};
