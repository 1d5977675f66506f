import { createStore, type StoreApi } from 'zustand/vanilla';
import {
  chosenInputOf,
  PRIMARY,
  sameInput,
  type FindingsChoice,
  type Progress,
  type RunningJob,
} from '../derive';
import type { Findings, FindingsInput, FindingsOutcome, TableReading } from '../engine/findings';
import type { DataTable } from '../../shared-types/fit';
import type { Plan } from '../../shared-types/plan';
import { endOf } from './jobsContext';

/** Computes findings away from the screen's thread. */
export type FindingsRunner = (
  input: FindingsInput,
  choice: FindingsChoice,
  tell: Progress,
) => RunningJob<FindingsOutcome>;

/** Findings of a table that came from elsewhere; kept for this session only. */
export interface TableFindings {
  readonly name: string;
  readonly findings: Findings;
  readonly table: DataTable;
  readonly reading: TableReading;
}

/** What findings are computed from. */
export interface FindingsQuestion {
  readonly input: FindingsInput | null;
  readonly choice: FindingsChoice;
  /** Which of the plans that were open in this session. */
  readonly copyId: string;
}

export interface FindingsState {
  /** Which measurement, taken how, is looked at. */
  readonly choice: FindingsChoice;
  /** The last findings that came in; they may belong to an earlier plan while `running`. */
  readonly outcome: FindingsOutcome | null;
  readonly running: boolean;
  /** How far the work under way has come, from 0 to 1; null before its first word. */
  readonly progress: number | null;
  /** The person ended the last work before it gave an answer. */
  readonly stopped: boolean;
  /** What `outcome` was computed from; null before the first. */
  readonly answered: FindingsQuestion | null;
  /** Looked at in place of the plan's own findings. */
  readonly fromTable: TableFindings | null;
  choose(choice: FindingsChoice): void;
  showTable(table: TableFindings | null): void;
  /** Asks for the findings of this plan, unless they are there, under way or were stopped. */
  ask(plan: Plan, copyId?: string): void;
  /** Ends the work under way; what was found before stays, and stays out of date. */
  stop(): void;
  /** Asks once more after a stop. */
  askAgain(plan: Plan, copyId?: string): void;
}

export type FindingsStore = StoreApi<FindingsState>;

/** The findings on screen: long work, so computed by `run` and kept until the plan differs. */
export function createFindingsStore(run: FindingsRunner): FindingsStore {
  // What the outcome, or the work under way, was computed from.
  let asked: FindingsQuestion | null = null;
  let work: RunningJob<FindingsOutcome> | null = null;

  return createStore<FindingsState>()((set, get) => ({
    choice: PRIMARY,
    outcome: null,
    running: false,
    progress: null,
    stopped: false,
    answered: null,
    fromTable: null,

    choose: (choice) => {
      set({ choice });
    },

    showTable: (fromTable) => {
      set({ fromTable });
    },

    stop: () => {
      if (!work) return;
      work.cancel();
      work = null;
      set({ running: false, progress: null, stopped: true });
    },

    askAgain: (plan, copyId) => {
      asked = null;
      get().ask(plan, copyId);
    },

    ask: (plan, copyId = '') => {
      const { choice } = get();
      const input = chosenInputOf(plan, choice.runs);
      const same = asked?.choice === choice && asked.copyId === copyId;
      if (asked && same && sameInput(asked.input, input)) return;
      const question = { input, choice, copyId };
      asked = question;
      // A later question ends the work on the one before: its answer is the one that counts.
      work?.cancel();
      work = null;
      if (!input) {
        const outcome = { ok: false, missing: 'No trial is planned yet.' } as const;
        set({ outcome, running: false, stopped: false, answered: question });
        return;
      }
      set({ running: true, progress: null, stopped: false });
      work = run(input, choice, (done, total) => {
        if (asked === question && get().running) set({ progress: done / total });
      });
      work.result.then(
        (outcome) => {
          if (asked !== question) return;
          work = null;
          set({ outcome, running: false, answered: question });
        },
        (error: unknown) => {
          if (asked !== question) return;
          const end = endOf(error);
          work = null;
          if ('fault' in end) {
            // Told where mistakes are; the screen asks anew when it is drawn again.
            asked = null;
            set({ running: false });
            throw end.fault;
          }
          const outcome = { ok: false, missing: end.problem } as const;
          set({ outcome, running: false, answered: question });
        },
      );
    },
  }));
}

/** Whether the outcome at hand is that of this plan as it stands, and of what is asked of it. */
export function isCurrent(
  { answered, choice }: Pick<FindingsState, 'answered' | 'choice'>,
  plan: Plan,
): boolean {
  return (
    answered !== null &&
    answered.choice === choice &&
    sameInput(answered.input, chosenInputOf(plan, choice.runs))
  );
}
