import { createStore, type StoreApi } from 'zustand/vanilla';
import { type FindingsChoice, findingsInputOf, PRIMARY, type RunningJob } from '../derive';
import type { Findings, FindingsInput, FindingsOutcome, TableReading } from '../engine/findings';
import type { DataTable } from '../../shared-types/fit';
import type { Plan } from '../../shared-types/plan';
import { endOf } from './jobsContext';

/** Computes findings away from the screen's thread. */
export type FindingsRunner = (
  input: FindingsInput,
  choice: FindingsChoice,
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
}

export interface FindingsState {
  /** Which measurement, taken how, is looked at. */
  readonly choice: FindingsChoice;
  /** The last findings that came in; they may belong to an earlier plan while `running`. */
  readonly outcome: FindingsOutcome | null;
  readonly running: boolean;
  /** What `outcome` was computed from; null before the first. */
  readonly answered: FindingsQuestion | null;
  /** Looked at in place of the plan's own findings. */
  readonly fromTable: TableFindings | null;
  choose(choice: FindingsChoice): void;
  showTable(table: TableFindings | null): void;
  /** Asks for the findings of this plan, unless they are there or under way. */
  ask(plan: Plan): void;
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
    answered: null,
    fromTable: null,

    choose: (choice) => {
      set({ choice });
    },

    showTable: (fromTable) => {
      set({ fromTable });
    },

    ask: (plan) => {
      const { choice } = get();
      const input = findingsInputOf(plan);
      if (asked && asked.choice === choice && sameInput(asked.input, input)) return;
      const question = { input, choice };
      asked = question;
      // A later question ends the work on the one before: its answer is the one that counts.
      work?.cancel();
      work = null;
      if (!input) {
        const outcome = { ok: false, missing: 'No trial is planned yet.' } as const;
        set({ outcome, running: false, answered: question });
        return;
      }
      set({ running: true });
      work = run(input, choice);
      work.result.then(
        (outcome) => {
          if (asked === question) set({ outcome, running: false, answered: question });
        },
        (error: unknown) => {
          if (asked !== question) return;
          const end = endOf(error);
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
    sameInput(answered.input, findingsInputOf(plan))
  );
}

function sameInput(a: FindingsInput | null, b: FindingsInput | null): boolean {
  if (!a || !b) return a === b;
  return (
    a.rack === b.rack &&
    a.trial === b.trial &&
    a.layout === b.layout &&
    a.records === b.records &&
    a.ppfdByPot === b.ppfdByPot &&
    a.lightOverTrial === b.lightOverTrial &&
    a.blockByPot === b.blockByPot &&
    a.wetDepthByPot === b.wetDepthByPot
  );
}
