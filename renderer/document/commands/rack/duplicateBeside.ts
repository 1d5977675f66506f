import type { Plan } from '../../../../shared-types/plan';
import { Refusal, type Command } from '../../command';
import { freeBoardShift, freeShift, type Shift } from '../../edits/freePlace';
import { placedOf, type OnShelf } from '../../queries/placing';
import { sayThings } from '../../queries/names';
import { duplicateItems } from './duplicateItems';

/** The same trays, lamps and boards once more, in the next free space of their own shelf. */
export const duplicateBeside: Command<{ items: readonly string[] }> = {
  name: 'duplicateBeside',
  label: ({ items }, plan) => `Duplicate ${sayThings(plan, items)}`,
  run: (plan, { items }) =>
    // Boards part what trays and lamps are laid by, so they come last.
    groupsOf(placedOf(plan, items)).reduce((sum, group) => {
      const refs = group.map(({ ref }) => ref);
      const shift = shiftOf(sum, placedOf(sum, refs));
      if (!shift) throw new Refusal(noSpace(plan, group));
      return duplicateItems.run(sum, { items: refs, ...shift });
    }, plan),
};

/** What is copied together: all trays and lamps of a shelf, and each board by itself. */
function groupsOf(placed: readonly OnShelf[]): OnShelf[][] {
  const groups = new Map<string, OnShelf[]>();
  for (const one of placed) {
    const key = one.kind === 'board' ? `~${one.ref}` : `${one.kind} ${one.shelf.id}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
}

function shiftOf(plan: Plan, group: readonly OnShelf[]): Shift | null {
  const [first] = group;
  if (!first) return null;
  return first.kind === 'board' ? freeBoardShift(plan, first) : freeShift(plan, first.shelf, group);
}

function noSpace(plan: Plan, group: readonly OnShelf[]): string {
  const refs = group.map(({ ref }) => ref);
  const shelf = group[0]?.shelf.number ?? '';
  return `Shelf ${shelf} has no free space for a copy of ${sayThings(plan, refs)}. Make room there, or copy to other shelves.`;
}
