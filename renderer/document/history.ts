import type { Plan } from '../../shared-types/plan';

/** One thing the person did, with the plan on both sides of it. */
export interface HistoryStep {
  label: string;
  before: Plan;
  after: Plan;
  /** Steps in a row with the same key (typing in one field) are one step. */
  mergeKey: string | null;
}

/** What can be undone, latest last, and what can be done again, next first. Without limit. */
export interface History {
  past: readonly HistoryStep[];
  future: readonly HistoryStep[];
}

export const emptyHistory: History = { past: [], future: [] };

/** Adds a step, or lengthens the last one; whatever was undone before is gone. */
export function recordStep(history: History, step: HistoryStep): History {
  const last = history.past.at(-1);
  const goesOn =
    last !== undefined &&
    history.future.length === 0 &&
    step.mergeKey !== null &&
    step.mergeKey === last.mergeKey &&
    last.after === step.before;
  if (!goesOn) return { past: [...history.past, step], future: [] };
  const merged = { ...step, before: last.before };
  return { past: [...history.past.slice(0, -1), merged], future: [] };
}

/** The plan before the last step, with the step's label; null where nothing can be undone. */
export function undoStep(history: History): { history: History; plan: Plan; label: string } | null {
  const step = history.past.at(-1);
  if (!step) return null;
  return {
    history: { past: history.past.slice(0, -1), future: [step, ...history.future] },
    plan: step.before,
    label: step.label,
  };
}

/** The plan after the step undone last, with the step's label; null where there is none. */
export function redoStep(history: History): { history: History; plan: Plan; label: string } | null {
  const [step, ...future] = history.future;
  if (!step) return null;
  return {
    history: { past: [...history.past, step], future },
    plan: step.after,
    label: step.label,
  };
}
