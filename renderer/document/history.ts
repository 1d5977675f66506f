import type { Plan } from '../../shared-types/plan';
import { backFrom, goBack, type Back } from './back';

/** One thing the person did, with the plan on both sides of it. */
export interface HistoryStep {
  label: string;
  before: Plan;
  after: Plan;
  /** Steps in a row with the same key (typing in one field) are one step. */
  mergeKey: string | null;
}

/** A step that keeps how to get back, for when it is long past. */
interface RecentStep extends HistoryStep {
  back: Back;
}

/**
 * A step long past. Every plan with ten thousand values takes a megabyte: of thousands of steps only
 * what each changed is kept. The plan itself is known as long as something else holds it, as what was
 * saved, so that an undo to it is an undo to that very plan.
 */
interface PackedStep {
  label: string;
  mergeKey: string | null;
  back: Back;
  was: WeakRef<Plan>;
}

/** What can be undone, latest last, and what can be done again, next first. Without limit. */
export interface History {
  past: readonly (RecentStep | PackedStep)[];
  future: readonly RecentStep[];
}

/** So many steps are kept with both their plans. */
const RECENT = 30;

export const emptyHistory: History = { past: [], future: [] };

/** Adds a step, or lengthens the last one; whatever was undone before is gone. */
export function recordStep(history: History, step: HistoryStep): History {
  const last = history.past.at(-1);
  const goesOn =
    last !== undefined &&
    'after' in last &&
    history.future.length === 0 &&
    step.mergeKey !== null &&
    step.mergeKey === last.mergeKey &&
    last.after === step.before;
  if (!goesOn) return { past: withPast(history.past, wayBack(step)), future: [] };
  return {
    past: [...history.past.slice(0, -1), wayBack({ ...step, before: last.before })],
    future: [],
  };
}

const wayBack = (step: HistoryStep): RecentStep => ({
  ...step,
  back: backFrom(step.after, step.before),
});

/** One step more; the one that is recent no longer is packed. */
function withPast(past: History['past'], step: RecentStep): History['past'] {
  const all = [...past, step];
  const at = all.length - 1 - RECENT;
  const old = all[at];
  if (old && 'before' in old) {
    const { label, mergeKey, back, before } = old;
    all[at] = { label, mergeKey, back, was: new WeakRef(before) };
  }
  return all;
}

/** The plan before the last step, with the step's label; null where nothing can be undone. */
export function undoStep(history: History): { history: History; plan: Plan; label: string } | null {
  const last = history.past.at(-1);
  if (!last) return null;
  const step = 'before' in last ? last : unpacked(last, history.future[0]);
  return {
    history: { past: history.past.slice(0, -1), future: [step, ...history.future] },
    plan: step.before,
    label: step.label,
  };
}

/** A step with its plans again; the next one, which was undone before it, tells how it ended. */
function unpacked({ was, ...step }: PackedStep, next: RecentStep | undefined): RecentStep {
  if (!next) throw new Error('history: a step long past is undone before those after it');
  const after = next.before;
  // What is gone back to is a plan as it was.
  return { ...step, after, before: was.deref() ?? (goBack(after, step.back) as Plan) };
}

/** The plan after the step undone last, with the step's label; null where there is none. */
export function redoStep(history: History): { history: History; plan: Plan; label: string } | null {
  const [step, ...future] = history.future;
  if (!step) return null;
  return {
    history: { past: withPast(history.past, step), future },
    plan: step.after,
    label: step.label,
  };
}
