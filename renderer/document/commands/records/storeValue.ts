import { Refusal } from '../../command';
import { codeOfPot } from '../../queries/names';
import type { Plan } from '../../../../shared-types/plan';
import type { Records } from '../../../../shared-types/records';
import { potTest } from '../../potsInRack';

/**
 * Refuses values that are no numbers or belong to no pot; clearing (null) is always allowed.
 * Whether a number is plausible is for the slip checks to say.
 */
export function checkValues(
  plan: Plan,
  entries: readonly { potId: string; value: number | null }[],
): void {
  const isPot = potTest(plan.rack);
  for (const { potId, value } of entries) {
    if (value === null) continue;
    if (!isPot(potId)) throw new Refusal(`No pot stands at ${codeOfPot(plan, potId)}.`);
    if (!Number.isFinite(value)) {
      throw new Refusal(`The value of ${codeOfPot(plan, potId)} is not a number.`);
    }
  }
}

/** Writes one value into a draft's list, or clears it (null); an empty measurement goes too. */
export function storeValue(
  list: Records['values'],
  measurementId: string,
  potId: string,
  value: number | null,
): void {
  if (value !== null) {
    (list[measurementId] ??= {})[potId] = value;
    return;
  }
  const byPot = list[measurementId];
  if (!byPot) return;
  Reflect.deleteProperty(byPot, potId);
  if (Object.keys(byPot).length === 0) Reflect.deleteProperty(list, measurementId);
}
