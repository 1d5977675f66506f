import { readPlan, sayProblem } from '../../document/open';
import type { FileRef } from '../../host/host';
import type { Stores } from '../../store/context';
import { reasonOf } from '../../words';

/** Shows the plan that a text holds; a sentence where it holds none. */
export function showText(
  { plan, session }: Stores,
  text: string,
  ref: FileRef | null,
): string | null {
  const read = readPlan(text);
  if (!read.ok) return sayProblem(read.problem);
  plan.getState().open(read.plan, ref);
  session.getState().reset();
  return null;
}

/** A refusal as the sentence that it says. */
export async function orReason(work: () => Promise<string | null>): Promise<string | null> {
  try {
    return await work();
  } catch (error) {
    return reasonOf(error);
  }
}
