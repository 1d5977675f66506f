import { noticeKinds } from '../../../shared-types/notice';
import type { AcceptedNotice, Plan } from '../../../shared-types/plan';
import { hasSeveralRuns } from '../runs';
import { noticeKey } from './noticeKey';

/** Kinds of notices that speak of what one run has of its own. */
const ofARun = new Set<string>([...noticeKinds.layout, ...noticeKinds.records]);

/** Whether an accepted notice holds for the run in hand. */
const holdsIn = ({ runId }: Pick<Plan, 'runId'>, { run }: AcceptedNotice): boolean =>
  run === undefined || run === runId;

/** The accepted notices that hold for the run in hand. */
export function acceptedIn(
  plan: Pick<Plan, 'acceptedNotices' | 'runId'>,
): readonly AcceptedNotice[] {
  const { acceptedNotices, runId } = plan;
  if (acceptedNotices.every((one) => holdsIn(plan, one))) return acceptedNotices;
  const byRun = heldIn.get(acceptedNotices) ?? new Map<string, readonly AcceptedNotice[]>();
  heldIn.set(acceptedNotices, byRun);
  const here = byRun.get(runId) ?? acceptedNotices.filter((one) => holdsIn(plan, one));
  byRun.set(runId, here);
  return here;
}

// The same list for the same question: what rests on it is not computed anew.
const heldIn = new WeakMap<readonly AcceptedNotice[], Map<string, readonly AcceptedNotice[]>>();

/** Whether this is the notice that was accepted, in the run in hand. */
export const isAccepted = (
  plan: Plan,
  accepted: AcceptedNotice,
  notice: Pick<AcceptedNotice, 'kind' | 'about'>,
): boolean => holdsIn(plan, accepted) && noticeKey(accepted) === noticeKey(notice);

/** An acceptance with the run that it is of: a value that is right in one run may be odd in the next. */
export function withItsRun(plan: Plan, accepted: AcceptedNotice): AcceptedNotice {
  if (accepted.run !== undefined || !ofARun.has(accepted.kind)) return accepted;
  return { ...accepted, run: plan.runId };
}

/** The same where the trial has several runs; of a single run nothing need be said. */
export const inItsRun = (plan: Plan, accepted: AcceptedNotice): AcceptedNotice =>
  hasSeveralRuns(plan) ? withItsRun(plan, accepted) : accepted;
