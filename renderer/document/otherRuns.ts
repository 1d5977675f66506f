import type { Plan } from '../../shared-types/plan';
import type { Run } from '../../shared-types/run';
import { Refusal } from '../words';
import { checkLock } from './lock';
import { findInconsistency } from './open/consistency';
import { sayPlace } from './queries/place';
import { hasSeveralRuns, runName, runsOf, seenFrom, withRuns } from './runs';

/** What all runs share, or have of their own beside the records of the one that is looked at. */
const shared = ['rack', 'light', 'flood', 'trial', 'earlierRuns', 'laterRuns'] as const;

/**
 * An edited plan whose other runs hold nothing of what the edit took away: days of measurements that
 * are gone, layouts not yet planted that were drawn for a factor or level that is gone, and the
 * exchange of levels of a factor that is gone.
 */
export function withRunsThatFit(before: Plan, after: Plan): Plan {
  if (!hasSeveralRuns(after) || before.trial === after.trial) return after;
  const known = new Set((after.trial?.measurements ?? []).map(({ id }) => id));
  const factors = new Set((after.trial?.factors ?? []).map(({ id }) => id));
  const levels = new Set(
    (after.trial?.factors ?? []).flatMap((factor) =>
      factor.levels.map((level) => `${factor.id} ${level.id}`),
    ),
  );
  const runs = runsOf(after);
  const fitting = runs.map((run) => unbound(fitted(run, known, levels), factors));
  return runs.every((run, i) => run === fitting[i]) ? after : withRuns(after, fitting);
}

function unbound(run: Run, factors: ReadonlySet<string>): Run {
  if (!run.swap || factors.has(run.swap.factorId)) return run;
  const { swap: _gone, ...own } = run;
  return own;
}

function fitted(run: Run, known: ReadonlySet<string>, levels: ReadonlySet<string>): Run {
  const { measurementDates, layout } = run;
  const dates = Object.entries(measurementDates).filter(([id]) => known.has(id));
  const fits =
    layout === null ||
    layout.plantedAt !== null ||
    layout.assignments.every((pot) =>
      Object.entries(pot.levels).every(([factor, level]) => levels.has(`${factor} ${level}`)),
    );
  if (fits && dates.length === Object.keys(measurementDates).length) return run;
  return {
    ...run,
    measurementDates: Object.fromEntries(dates),
    layout: fits ? layout : null,
  };
}

/** Throws where an edit would pull the ground from under another run than the one in hand. */
export function checkOtherRuns(before: Plan, after: Plan): void {
  if (!hasSeveralRuns(after) || shared.every((part) => before[part] === after[part])) return;
  const had = new Set(runsOf(before).map(({ id }) => id));
  for (const { id } of runsOf(after)) {
    if (id === after.runId || !had.has(id)) continue;
    const was = seenFrom(before, id);
    const is = seenFrom(after, id);
    inRun(runName(before, id), () => {
      checkLock(was, is);
      const contradiction = findInconsistency(is, was);
      if (!contradiction) return;
      const { at, found, expected } = contradiction;
      throw new Refusal(`${sayPlace(is, at)}: found ${found}, expected ${expected}.`);
    });
  }
}

function inRun(name: string, check: () => void): void {
  try {
    check();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    throw new Refusal(`${name}: ${error.message}`);
  }
}
