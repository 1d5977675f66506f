import { memo } from '../../../derive/memo';
import type { Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';

/** Longer stretches without a value are still to come rather than passed over. */
const LONGEST = 2;

/**
 * Pots that were passed over: one or two without value and mark, between recorded ones of their
 * tray, in the order of walking. One pass over the pots.
 */
export function passedOver(
  pots: readonly Pot[],
  values: Readonly<Record<string, number>>,
  marks: Plan['records']['marks'],
): ReadonlySet<string> {
  const passed = new Set<string>();
  const waiting = new Map<string, string[] | null>();
  for (const { id, trayId } of pots) {
    const open = waiting.get(trayId);
    if (values[id] !== undefined || marks[id]) {
      if (open && open.length <= LONGEST) for (const one of open) passed.add(one);
      waiting.set(trayId, []);
      // Before its first record nothing of a tray has been passed.
    } else if (open && open.length <= LONGEST) open.push(id);
  }
  return passed;
}

/** The same, remembered: one entry a measurement, and as many again for undo. */
export const passedOverIn = memo(passedOver, 40);
