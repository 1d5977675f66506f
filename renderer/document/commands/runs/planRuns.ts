import type { Plan } from '../../../../shared-types/plan';
import type { Run } from '../../../../shared-types/run';
import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, factorIn } from '../../edit';
import { idLetters } from '../../ids';
import { withItsRun } from '../../queries/acceptedIn';
import { standingRecords } from '../../queries/standing';
import { conditionsOf, runsOf, seenFrom, seenFromLast, withRuns } from '../../runs';

/**
 * Plans further runs after those there are, so that the trial is grown so many times in all. With a
 * swapped factor its levels move on by one unit each time, from where the last run before had them; if
 * nobody has drawn them yet, chance decides where they start. A planted run keeps the rack it has.
 * The plan is seen from the first of the new runs; from the first of all, where none is drawn yet.
 */
export const planRuns: Command<{ runs: number; swappedFactorId: string | null }> = {
  name: 'planRuns',
  label: ({ runs, swappedFactorId }, plan) =>
    runs === runsOf(plan).length + 1 && swappedFactorId === null
      ? `Plan run ${runs}`
      : `Plan ${runs} runs${swappedFactorId === null ? '' : `, levels of ${factorIn(plan, swappedFactorId).name} swapped`}`,
  run: (shown, { runs, swappedFactorId }) => {
    const plan =
      swappedFactorId === null ? seenFromLast(shown) : toDraw(seenFromLast(shown), swappedFactorId);
    const there = runsOf(plan);
    if (runs <= there.length) {
      throw new Refusal(`The trial has ${there.length} runs already; more than that are expected.`);
    }
    const grown = isGrown(plan);
    const standing = there.map((run) =>
      run.id === plan.runId && grown ? { ...run, grownOn: conditionsOf(plan) } : run,
    );
    const levels = swappedFactorId === null ? 1 : factorIn(plan, swappedFactorId).levels.length;
    const added = Array.from({ length: runs - there.length }, (_, i): Run => {
      const swap = {
        fromRun: plan.swap?.fromRun ?? plan.runId,
        factorId: swappedFactorId ?? '',
        step: ((plan.swap?.step ?? 0) + i + 1) % levels,
      };
      return {
        id: `${idLetters.run}${plan.nextId + i}`,
        startDate: null,
        harvestDate: null,
        measurementDates: {},
        layout: null,
        records: { values: {}, second: {}, marks: {}, incidents: [] },
        ...(swappedFactorId === null ? {} : { swap }),
      };
    });
    const numbered = {
      ...plan,
      light: grown ? withRunOfReadings(plan) : plan.light,
      nextId: plan.nextId + added.length,
      // What was accepted of the records so far says nothing of those to come.
      acceptedNotices: plan.acceptedNotices.map((accepted) => withItsRun(plan, accepted)),
    };
    const all = withRuns(numbered, [...standing, ...added]);
    return grown || swappedFactorId === null ? seenFrom(all, added[0]?.id ?? plan.runId) : all;
  },
};

/** Readings tell of the run that they were taken in: what a next one makes of them is marked. */
function withRunOfReadings({ light, runId }: Plan): Plan['light'] {
  if (light.readings.length === 0) return light;
  return { ...light, readings: light.readings.map((reading) => ({ takenIn: runId, ...reading })) };
}

/** Whether something stands on the run's rack, or was recorded on it. */
const isGrown = (plan: Plan): boolean =>
  (plan.layout?.plantedAt ?? null) !== null || standingRecords(plan) !== null;

/** A factor that is to be swapped is drawn, unless plants grow under its levels already. */
function toDraw(plan: Plan, factorId: string): Plan {
  const { kind } = factorIn(plan, factorId);
  if (kind === 'randomised' || isGrown(plan)) return plan;
  return change(plan, (draft) => {
    const factor = factorIn(draft, factorId);
    factor.kind = 'randomised';
    factor.where = [];
  });
}
