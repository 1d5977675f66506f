import { comparePlans, type PlanDifference } from '../../document/compare';
import { readPlan, sayProblem } from '../../document/open';
import type { FileNow, FileRef, KeptCopy, RecoveryCopy } from '../../host/host';
import type { Plan } from '../../../shared-types/plan';

/** A copy whose plan can be opened. */
export interface UsableCopy {
  readonly copy: string;
  readonly plan: Plan;
  readonly text: string;
  readonly ref: FileRef | null;
  /** ISO 8601. */
  readonly writtenAt: string;
  /** How it stands to its file as that is now. */
  readonly file:
    /** Never saved, or its file is not there or may not be read. */
    | { kind: 'none' }
    | { kind: 'unreadable'; changedAt: string }
    | {
        kind: 'plan';
        plan: Plan;
        changedAt: string;
        /** The file was written after the copy, by somebody else. */
        later: boolean;
        differences: readonly PlanDifference[];
      };
}

export interface SortedCopies {
  /** Newest first. */
  readonly usable: readonly UsableCopy[];
  /** Where a copy lies that cannot be opened, and why, a sentence each. */
  readonly unreadable: readonly string[];
  /** Copies of which the file holds everything. */
  readonly spent: readonly string[];
}

/** What there is to be offered of the copies that were found. */
export function sortCopies(copies: readonly RecoveryCopy[]): SortedCopies {
  const usable: UsableCopy[] = [];
  const unreadable: string[] = [];
  const spent: string[] = [];
  for (const { copy, place, kept, file } of copies) {
    if (kept === null) {
      unreadable.push(`${place}: is damaged and cannot be read. It stays where it is.`);
      continue;
    }
    const read = readPlan(kept.text);
    if (!read.ok) {
      unreadable.push(`${place}: ${sayProblem(read.problem)} It stays where it is.`);
      continue;
    }
    const state = stateOf(read.plan, kept, file);
    if (state.kind === 'plan' && state.differences.length === 0) spent.push(copy);
    else usable.push({ copy, plan: read.plan, ...kept, file: state });
  }
  usable.sort((a, b) => Date.parse(b.writtenAt) - Date.parse(a.writtenAt));
  return { usable, unreadable, spent };
}

function stateOf(
  plan: Plan,
  { writtenAt, ref }: KeptCopy,
  file: FileNow | null,
): UsableCopy['file'] {
  if (file === null) return { kind: 'none' };
  const read = file.text === null ? null : readPlan(file.text);
  const { changedAt } = file;
  // A file that is as the copy's window left it came first, whatever the clocks say.
  const isBefore = ref !== null && ref.seen !== null && ref.seen === file.ref.seen;
  if (!read?.ok) return { kind: 'unreadable', changedAt };
  return {
    kind: 'plan',
    plan: read.plan,
    changedAt,
    later: !isBefore && Date.parse(changedAt) > Date.parse(writtenAt),
    differences: comparePlans(plan, read.plan),
  };
}
