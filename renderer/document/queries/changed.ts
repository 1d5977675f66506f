import type { Plan } from '../../../shared-types/plan';
import { refTo, type RefKind } from './refs';

/** Things by reference, each with what it is itself, without what stands or hangs on it. */
function thingsOf({ rack, trial, flood }: Plan): Map<string, unknown> {
  const found = new Map<string, unknown>();
  const add = (kind: RefKind, things: readonly { id: string }[]) => {
    for (const thing of things) found.set(refTo(kind, thing.id), thing);
  };
  for (const { trays, lamps, boards, ...shelf } of rack.shelves) {
    add('shelf', [shelf]);
    add('tray', trays);
    add('board', boards ?? []);
    add('lamp', lamps);
  }
  add('factor', trial?.factors ?? []);
  add('zone', flood?.zones ?? []);
  return found;
}

/**
 * References of shelves, trays, boards, lamps, factors and flood zones that are new or not what they
 * were. A lamp says so of itself, not of its shelf.
 */
export function refsChanged(before: Plan, after: Plan): string[] {
  if (before === after) return [];
  const was = thingsOf(before);
  return [...thingsOf(after)].flatMap(([ref, thing]) => {
    const old = was.get(ref);
    if (old === thing) return [];
    return old !== undefined && JSON.stringify(old) === JSON.stringify(thing) ? [] : [ref];
  });
}
