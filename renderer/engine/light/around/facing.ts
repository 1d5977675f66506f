import { sides, type Facing, type Shelf, type Side } from '../../../../shared-types/rack';
import type { HungShelf } from '../../lamps';

/** A shelf with the other shelves of its rack, of which its sides may face one. */
export interface ShelfInRoom extends HungShelf {
  drawn?: ShelfInRoom;
  others?: readonly Shelf[];
}

const MATT: Facing = { kind: 'matt' };

export const facingOf = (shelf: Pick<Shelf, 'faces'>, side: Side): Facing =>
  shelf.faces?.[side] ?? MATT;

/** Whether a side itself reflects; what lies behind an open one does not count. */
export function isClosed(facing: Facing): boolean {
  switch (facing.kind) {
    case 'matt':
    case 'foil':
      return true;
    case 'wall':
    case 'dark':
    case 'lit':
    case 'shelf':
      return false;
    default:
      return facing satisfies never;
  }
}

/** Whether light of other lamps than the shelf's own comes in through a side. */
function letsLightIn(facing: Facing): boolean {
  switch (facing.kind) {
    case 'lit':
    case 'shelf':
      return true;
    case 'matt':
    case 'foil':
    case 'wall':
    case 'dark':
      return false;
    default:
      return facing satisfies never;
  }
}

/** Whether lamps of others light a shelf through its sides. */
export const litFromOutside = (shelf: Pick<Shelf, 'faces'>): boolean =>
  sides.some((side) => letsLightIn(facingOf(shelf, side)));

/** Whether any side gives light back or lets it in though it reflects none by itself. */
export const facesLight = (shelf: Pick<Shelf, 'faces'>): boolean =>
  sides.some((side) => {
    const facing = facingOf(shelf, side);
    return facing.kind === 'wall' || letsLightIn(facing);
  });

/** A shelf whose open sides reflect nothing by themselves, whatever figure they still carry. */
export function asFaced<S extends Shelf>(shelf: S): S {
  if (!shelf.faces) return shelf;
  const open = sides.filter((side) => !isClosed(facingOf(shelf, side)));
  const dark = Object.fromEntries(open.map((side) => [side, 0]));
  return { ...shelf, reflectances: { ...shelf.reflectances, ...dark } };
}

/** What part of a foil's reflected light leaves as from a mirror; 0 of any other side. */
export function specularOf(shelf: Pick<Shelf, 'faces'>, side: Side): number {
  const facing = facingOf(shelf, side);
  return facing.kind === 'foil' ? facing.specular : 0;
}

// Shelves are immutable, and a plan's rack changes as a whole.
const known = new WeakMap<Shelf, { others: readonly Shelf[]; seen: ShelfInRoom }>();

/** The shelves of a rack, each with those that its sides face; a shelf that faces none as it is. */
export function shelvesInRoom(shelves: readonly HungShelf[]): readonly ShelfInRoom[] {
  return shelves.map((shelf) => shelfInRoom(shelf, shelves));
}

/** The same object as long as neither the shelf nor those that it faces change. */
export function shelfInRoom(shelf: HungShelf, shelves: readonly Shelf[]): ShelfInRoom {
  const faced = new Set(
    sides.flatMap((side) => {
      const facing = facingOf(shelf, side);
      return facing.kind === 'shelf' ? [facing.shelfId] : [];
    }),
  );
  const others = shelves.filter(({ id }) => faced.has(id) && id !== shelf.id);
  if (others.length === 0) return shelf;
  const before = known.get(shelf);
  const same =
    before?.others.length === others.length &&
    before.others.every((other, i) => other === others[i]);
  if (before && same) return before.seen;
  const seen: ShelfInRoom = { ...shelf, others };
  if (shelf.drawn) seen.drawn = { ...shelf.drawn, others };
  known.set(shelf, { others, seen });
  return seen;
}
