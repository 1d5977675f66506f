import { potsOfRack } from '../../../engine/geometry';
import type { Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import { runNumber } from '../../runs';
import { codeWithoutRun, withoutSymbology } from './runCode';

/** `2b c7`, `2BC7`, `02B-C07` and `2B-C7` are one code. */
function plainCode(code: string): string {
  return code
    .toUpperCase()
    .replace(/[\s\-–_./]/g, '')
    .replace(/(^|\D)0+(?=\d)/g, '$1');
}

/**
 * Finds pots by the code as printed, then by the code without its marks (`several` share it), then
 * by the pot's permanent id, which labels printed earlier carry. A scanner's prefix is taken off, and
 * so is the run where it is the one in hand.
 */
export function codeBook(
  plan: Pick<Plan, 'rack' | 'earlierRuns'>,
): (written: string) => Pot | 'several' | undefined {
  const printed = new Map<string, Pot | 'several'>();
  const bare = new Map<string, Pot | 'several'>();
  const byId = new Map<string, Pot>();
  for (const pot of potsOfRack(plan.rack)) {
    const code = plainCode(pot.code);
    printed.set(pot.code, printed.has(pot.code) ? 'several' : pot);
    bare.set(code, bare.has(code) ? 'several' : pot);
    byId.set(pot.id, pot);
  }
  return (scanned) => {
    const written = codeWithoutRun(withoutSymbology(scanned), runNumber(plan));
    return (
      printed.get(written.toUpperCase()) ??
      bare.get(plainCode(written)) ??
      byId.get(written.toLowerCase())
    );
  };
}

/**
 * Finds pots by what may stand on a label: what the code book knows, or the code of the plant in
 * the pot. Upper and lower case are one.
 */
export function labelBook(
  plan: Pick<Plan, 'rack' | 'layout' | 'earlierRuns'>,
): (written: string) => Pot | 'several' | undefined {
  const byCode = codeBook(plan);
  const pots = new Map(potsOfRack(plan.rack).map((pot) => [pot.id, pot]));
  const byPlant = new Map<string, Pot | 'several'>();
  for (const { potId, plant } of plan.layout?.assignments ?? []) {
    const pot = pots.get(potId);
    if (!pot || plant === null) continue;
    const key = plant.trim().toLowerCase();
    byPlant.set(key, byPlant.has(key) ? 'several' : pot);
  }
  return (scanned) => byCode(scanned) ?? byPlant.get(withoutSymbology(scanned).toLowerCase());
}
