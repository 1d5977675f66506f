import type { DeliveredUnit } from '../queries/deliveredUnits';
import { nameWords, wordsOf } from './logHeads';

/** A name of a unit without regard to case, marks and spaces. */
export const plainUnit = (name: string): string => wordsOf(name).join(' ');

/**
 * Finds units of the rack by what a table calls them: `Tank 1`, `tray 2A`, `2a`, `Shelf 2`, or `2` in a
 * column whose head is `Shelf`. A name that fits several finds none.
 */
export function unitFinder(
  units: readonly DeliveredUnit[],
): (name: string, head?: string) => DeliveredUnit | null {
  const byName = new Map<string, DeliveredUnit | null>();
  for (const unit of units) {
    const name = plainUnit(unit.name);
    const short = unit.kind === 'tray' ? [plainUnit(unit.name.replace(/^tray /, ''))] : [];
    for (const alias of new Set([name, nameWords(wordsOf(unit.name)), ...short])) {
      byName.set(alias, byName.has(alias) ? null : unit);
    }
  }
  return (name, head = '') => {
    const plain = plainUnit(name);
    const underHead = head === '' ? undefined : byName.get(`${plainUnit(head)} ${plain}`);
    return byName.get(plain) ?? underHead ?? null;
  };
}
