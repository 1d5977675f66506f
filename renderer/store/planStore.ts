import { createStore } from 'zustand/vanilla';
import type { StoreApi } from 'zustand/vanilla';
import { applyCommand } from '../document/apply';
import type { Command } from '../document/command';
import { bind, type BoundCommand } from '../document/compose';
import { emptyHistory, recordStep, redoStep, undoStep } from '../document/history';
import type { History } from '../document/history';
import { refsAdded } from '../document/queries';
import { runUnderWay, seenFrom, seenFromLast } from '../document/runs';
import type { FileRef } from '../host/host';
import type { Plan } from '../../shared-types/plan';
import type { WayOn } from '../../shared-types/window/wayOn';
import type { EntryAct } from '../../shared-types/records';

export type Dispatched =
  | {
      ok: true;
      /** References of what the command put into the plan, to be selected. */
      added: string[];
    }
  | { ok: false; reason: string };

export interface PlanState {
  /** The open plan; null: none is open. */
  readonly plan: Plan | null;
  /** The plan as it would be if the gesture in hand ended here. */
  readonly preview: Plan | null;
  readonly history: History;
  /** Where the plan is saved; null: not yet. */
  readonly fileRef: FileRef | null;
  /** The plan as it was saved last; any other plan is unsaved. */
  readonly savedPlan: Plan | null;
  /** Names the recovery copy of this plan in this session; anew for every plan that is opened. */
  readonly copyId: string;
  /** Why the last command was not carried out; cleared by the next one that is. */
  readonly lastRefusal: string | null;
  /** Where one goes on after it; null: only what it says helps. */
  readonly wayOn: WayOn | null;
  /** How many acts were refused: the same refusal twice is told twice. */
  readonly refusals: number;
  /** The last edit that only a correction with a date and a reason could carry out. */
  readonly toCorrect: { edit: BoundCommand; reason: string } | null;

  /** `saved`: false for a plan that is in no file yet (new, migrated, recovered). */
  open(plan: Plan, ref: FileRef | null, saved?: boolean): void;
  close(): void;
  dispatch<Args>(command: Command<Args>, args: Args, options?: { mergeKey?: string }): Dispatched;
  /** Shows what a command would do, from the plan as it stands; a refused one changes nothing. */
  previewCommand<Args>(command: Command<Args>, args: Args): Dispatched;
  /** Makes the shown preview the plan, as one step. */
  commitPreview(): void;
  cancelPreview(): void;
  undo(): void;
  redo(): void;
  /** Said after the text of `plan` is safely in the file. */
  markSaved(ref: FileRef, plan: Plan): void;
  /** Looks at another run; nothing of the plan changes. */
  seeRun(runId: string): void;
  /** Leaves the edit that waits for a correction as it is. */
  leaveUncorrected(): void;
}

export type PlanStore = StoreApi<PlanState>;

const nothingOpen = {
  plan: null,
  preview: null,
  history: emptyHistory,
  fileRef: null,
  savedPlan: null,
  copyId: '',
  lastRefusal: null,
  wayOn: null,
  toCorrect: null,
};

/**
 * The open plan with its history. All edits pass through `dispatch` or a preview. `actNow`: when and
 * by whom values are entered, asked anew for every edit.
 */
export function createPlanStore(actNow?: () => EntryAct): PlanStore {
  // The label of the shown preview; it is wanted only when the preview becomes a step.
  let previewLabel = '';

  return createStore<PlanState>()((set, get) => ({
    ...nothingOpen,
    refusals: 0,

    open: (plan, fileRef, saved = fileRef !== null) => {
      const copyId = crypto.randomUUID();
      const seen = seenFrom(plan, runUnderWay(plan));
      set({ ...nothingOpen, plan: seen, fileRef, savedPlan: saved ? seen : null, copyId });
    },

    close: () => {
      set(nothingOpen);
    },

    dispatch: (command, args, { mergeKey } = {}) => {
      const before = get().plan;
      if (!before) return { ok: false, reason: 'No plan is open.' };
      const outcome = applyCommand(before, command, args, actNow?.());
      if (!outcome.ok) {
        set(refused(outcome, command, args, get().refusals));
        return outcome;
      }
      const { plan: after, label } = outcome;
      if (after === before) {
        set({ lastRefusal: null, toCorrect: null, preview: null });
        return { ok: true, added: [] };
      }
      const step = { label, before, after, mergeKey: mergeKey ?? null };
      set({
        plan: after,
        preview: null,
        history: command.final ? emptyHistory : recordStep(get().history, step),
        lastRefusal: null,
        toCorrect: null,
      });
      return { ok: true, added: refsAdded(before, after) };
    },

    previewCommand: (command, args) => {
      const { plan } = get();
      if (!plan) return { ok: false, reason: 'No plan is open.' };
      const outcome = applyCommand(plan, command, args);
      if (!outcome.ok) {
        set(refused(outcome, command, args, get().refusals));
        return outcome;
      }
      previewLabel = outcome.label;
      set({ preview: outcome.plan, lastRefusal: null, toCorrect: null });
      return { ok: true, added: refsAdded(plan, outcome.plan) };
    },

    commitPreview: () => {
      const { plan: before, preview: after, history } = get();
      if (!before || !after) return;
      if (after === before) {
        set({ preview: null });
        return;
      }
      const step = { label: previewLabel, before, after, mergeKey: null };
      set({ plan: after, preview: null, history: recordStep(history, step) });
    },

    cancelPreview: () => {
      set({ preview: null, lastRefusal: null });
    },

    undo: () => {
      const undone = undoStep(get().history);
      if (undone) set({ plan: undone.plan, history: undone.history, preview: null });
    },

    redo: () => {
      const redone = redoStep(get().history);
      if (redone) set({ plan: redone.plan, history: redone.history, preview: null });
    },

    markSaved: (fileRef, savedPlan) => {
      set({ fileRef, savedPlan });
    },

    seeRun: (runId) => {
      const { plan } = get();
      if (plan)
        set({ plan: seenFrom(plan, runId), preview: null, lastRefusal: null, toCorrect: null });
    },

    leaveUncorrected: () => {
      set({ toCorrect: null, lastRefusal: null });
    },
  }));
}

function refused<Args>(
  outcome: { reason: string; correctable?: true; wayOn?: WayOn | null },
  command: Command<Args>,
  args: Args,
  before: number,
): Pick<PlanState, 'lastRefusal' | 'wayOn' | 'toCorrect' | 'refusals'> {
  return {
    lastRefusal: outcome.reason,
    wayOn: outcome.wayOn ?? null,
    toCorrect: toCorrectOf(outcome, command, args),
    refusals: before + 1,
  };
}

function toCorrectOf<Args>(
  outcome: { reason: string; correctable?: true },
  command: Command<Args>,
  args: Args,
): PlanState['toCorrect'] {
  return outcome.correctable ? { edit: bind(command, args), reason: outcome.reason } : null;
}

/** Whether the open plan differs from its file. */
export function isUnsaved(state: Pick<PlanState, 'plan' | 'savedPlan'>): boolean {
  const { plan, savedPlan } = state;
  if (plan === null || plan === savedPlan) return false;
  return savedPlan === null || seenFromLast(plan) !== seenFromLast(savedPlan);
}

/** The plan that is to be shown: the preview while a gesture is in hand. */
export function shownPlan(state: Pick<PlanState, 'plan' | 'preview'>): Plan | null {
  return state.preview ?? state.plan;
}

/** What "Undo …" and "Redo …" would say; null where there is nothing. */
export function undoLabel(state: Pick<PlanState, 'history'>): string | null {
  return state.history.past.at(-1)?.label ?? null;
}

export function redoLabel(state: Pick<PlanState, 'history'>): string | null {
  return state.history.future[0]?.label ?? null;
}
