import { lightToDo, type StartJob } from '../../renderer/derive';
import type { Plan } from '../../shared-types/plan';

/**
 * Works out the light of a plan, as drawn and as treated unless a rack is named, so that what asks for
 * it has it at once.
 */
export async function lightReady(
  plan: Plan,
  startJob: StartJob,
  racks?: readonly Plan['rack'][],
): Promise<void> {
  for (const { asked, keep } of lightToDo(plan, racks)) {
    keep(await startJob('lightFigures', asked, () => undefined).result);
  }
}
