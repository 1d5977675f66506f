import { sides, type Shelf } from '../../../shared-types/rack';

/** A shelf whose lamps a treatment has changed, with the shelf as it is drawn. */
export interface HungShelf extends Shelf {
  drawn?: Shelf;
}

/** A shelf with the other shelves of its rack, of which its sides may face one. */
export interface ShelfInRoom extends HungShelf {
  drawn?: ShelfInRoom;
  others?: readonly HungShelf[];
}

/** Ids of the shelves that the sides of a shelf face. */
export const facedShelves = ({ faces }: Pick<Shelf, 'faces'>): string[] =>
  sides.flatMap((side) => {
    const facing = faces?.[side];
    return facing?.kind === 'shelf' ? [facing.shelfId] : [];
  });

// Shelves are immutable, and a plan's rack changes as a whole.
const known = new WeakMap<Shelf, { others: readonly HungShelf[]; seen: ShelfInRoom }>();

/** The shelves of a rack, each with those that its sides face; a shelf that faces none as it is. */
export function shelvesInRoom(shelves: readonly HungShelf[]): readonly ShelfInRoom[] {
  return shelves.map((shelf) => shelfInRoom(shelf, shelves));
}

/**
 * The same object as long as neither the shelf nor those that it faces change. Where a treatment
 * changes the lamps of any of them, the shelf as drawn is among others as drawn.
 */
export function shelfInRoom(shelf: HungShelf, shelves: readonly HungShelf[]): ShelfInRoom {
  const faced = new Set(facedShelves(shelf));
  const others = shelves.filter(({ id }) => faced.has(id) && id !== shelf.id);
  if (others.length === 0) return shelf;
  const before = known.get(shelf);
  const same =
    before?.others.length === others.length &&
    before.others.every((other, i) => other === others[i]);
  if (before && same) return before.seen;
  const seen: ShelfInRoom = { ...shelf, others };
  if ([shelf, ...others].some(({ drawn }) => drawn)) {
    seen.drawn = { ...(shelf.drawn ?? shelf), others: others.map((other) => other.drawn ?? other) };
  }
  known.set(shelf, { others, seen });
  return seen;
}
