import type { Rack, Shelf, Side } from '../../../shared-types/rack';
import { facedShelves, shelvesBeside, wallsBehind, type Neighbour } from '../geometry';

/** A shelf whose lamps a treatment has changed, with the shelf as it is drawn. */
export interface HungShelf extends Shelf {
  drawn?: Shelf;
}

/** A shelf with those of its room whose light reaches it. */
export interface ShelfInRoom extends HungShelf {
  drawn?: ShelfInRoom;
  /** What its sides face of them. */
  neighbours?: readonly Neighbour[];
  /** The shelves of `neighbours`, and those that these face; in a room all others. */
  others?: readonly HungShelf[];
  /** What the sides of these face, by shelf id. */
  theirs?: ReadonlyMap<string, readonly Neighbour[]>;
  room?: Rack['room'];
  /** Walls close behind its open sides, as they stand in the room. */
  behind?: Partial<Record<Side, { reflectance: number; distanceMm: number }>>;
}

/** Of a wall that nobody has measured, between a dark one and a white one (common practice). */
const UNKNOWN_WALL = 0.5;

type ShelvesOfRoom = Pick<Rack, 'room'> & { shelves: readonly HungShelf[] };

// Shelves are immutable, and a plan's rack changes as a whole.
const known = new WeakMap<Shelf, Pick<ShelfInRoom, 'others' | 'room'> & { seen: ShelfInRoom }>();

/** The shelves of a rack, each with those whose light reaches it; a shelf by itself as it is. */
export function shelvesInRoom(rack: ShelvesOfRoom): readonly ShelfInRoom[] {
  return rack.shelves.map((shelf) => shelfInRoom(shelf, rack));
}

/**
 * The same object as long as neither the shelf nor those whose light reaches it change. Where a
 * treatment changes the lamps of any of them, the shelf as drawn is among others as drawn.
 */
export function shelfInRoom(shelf: HungShelf, { shelves, room }: ShelvesOfRoom): ShelfInRoom {
  const neighbours = shelvesBeside(shelf, shelves);
  if (neighbours.length === 0 && !room) return shelf;
  const faced = shelves.filter(({ id }) => neighbours.some(({ shelfId }) => shelfId === id));
  const next = room ? [] : faced.flatMap((other) => facedShelves(other, shelves));
  const reached = new Set([...faced.map(({ id }) => id), ...next]);
  const others = shelves.filter(({ id }) => id !== shelf.id && (room || reached.has(id)));
  const before = known.get(shelf);
  const same =
    before?.room === room &&
    before?.others?.length === others.length &&
    before.others.every((other, i) => other === others[i]);
  if (before && same) return before.seen;
  const theirs = new Map(faced.map((other) => [other.id, shelvesBeside(other, shelves)]));
  const behind = behindOf(shelf, neighbours, room);
  const standing = { neighbours, others, theirs, behind, ...(room && { room }) };
  const seen: ShelfInRoom = { ...shelf, ...standing };
  if ([shelf, ...others].some(({ drawn }) => drawn)) {
    const asDrawn = others.map((other) => other.drawn ?? other);
    seen.drawn = { ...(shelf.drawn ?? shelf), ...standing, others: asDrawn };
  }
  known.set(shelf, { others, room, seen });
  return seen;
}

/** What stands close behind sides of which nothing is said: boards of other shelves, a wall of the room. */
function behindOf(
  shelf: Shelf,
  neighbours: readonly Neighbour[],
  room: Rack['room'],
): NonNullable<ShelfInRoom['behind']> {
  const walls = room ? wallsBehind(shelf, room) : [];
  const open = new Set(neighbours.filter(({ board }) => board === 0).map(({ side }) => side));
  const boards = neighbours.filter(({ side, board }) => board > 0 && !open.has(side));
  return Object.fromEntries([
    ...walls.map(({ side, distanceMm }) => [
      side,
      { reflectance: room?.walls ?? UNKNOWN_WALL, distanceMm },
    ]),
    ...boards.map(({ side, board, gapMm }) => [side, { reflectance: board, distanceMm: gapMm }]),
  ]);
}
