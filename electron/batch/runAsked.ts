import {
  hasSeveralRuns,
  runNumber,
  runsOf,
  seenFrom,
  seenFromLast,
} from '../../renderer/document/runs';
import type { Plan } from '../../shared-types/plan';
import { BatchError } from './batchError';

/** Which run of a trial a verb looks at; the last where it is not said. */
export const runOption = { run: { value: 'N', needed: false } } as const;

/** The plan as seen from the run that was asked for. Throws a BatchError where it has no such run. */
export function inRunAsked(plan: Plan, asked: string | undefined): Plan {
  if (asked === undefined) return seenFromLast(plan);
  const runs = runsOf(plan);
  const run = /^\d+$/.test(asked) ? runs[Number(asked) - 1] : undefined;
  if (run) return seenFrom(plan, run.id);
  const expected =
    runs.length === 1
      ? '1, for the plan has a single run'
      : `a whole number from 1 to ${runs.length}`;
  throw new BatchError('--run', `found ${asked}`, `expected ${expected}`);
}

/** `{ run: 2 }` in a result where the trial has several runs; nothing where it has one. */
export function runInResult(plan: Plan): { run?: number } {
  return hasSeveralRuns(plan) ? { run: runNumber(plan) } : {};
}
