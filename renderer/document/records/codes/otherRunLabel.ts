import type { Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import { runName, runsOf, seenFrom } from '../../runs';
import { labelBook } from './codeBook';
import { runInCode } from './runCode';

/** What a label of another run than the one in hand leads to. */
export interface OtherRunLabel {
  runId: string;
  pot: Pot;
  /** Whose label it is, in a sentence. */
  said: string;
}

/**
 * Finds pots by labels of the other runs: codes that carry their run, and codes of plants that stand
 * in that run alone. A sentence where a code carries a run that the trial does not have; null where
 * it is no such label. Books are made once they are needed.
 */
export function otherRunLabels(plan: Plan): (scanned: string) => OtherRunLabel | string | null {
  const runs = runsOf(plan);
  const others = runs.filter(({ id }) => id !== plan.runId);
  const books = new Map<string, ReturnType<typeof labelBook>>();
  const bookOf = (runId: string) => {
    const book = books.get(runId) ?? labelBook(seenFrom(plan, runId));
    books.set(runId, book);
    return book;
  };
  const labelOf = (runId: string, scanned: string): OtherRunLabel | null => {
    const pot = bookOf(runId)(scanned);
    if (!pot || pot === 'several') return null;
    const run = runName(plan, runId).toLowerCase();
    const shown = runName(plan).toLowerCase();
    const said = `This label is of ${run}, pot ${pot.code}; ${shown} is shown.`;
    return { runId, pot, said };
  };
  return (scanned) => {
    const number = runInCode(scanned);
    if (number !== null) {
      const run = runs[number - 1];
      if (run) return run.id === plan.runId ? null : labelOf(run.id, scanned);
      const has = runs.length === 1 ? 'a single run' : `${runs.length} runs`;
      return `This label is of run ${number}; the trial has ${has}.`;
    }
    const found = others.flatMap(({ id }) => labelOf(id, scanned) ?? []);
    return found.length === 1 ? (found[0] ?? null) : null;
  };
}
