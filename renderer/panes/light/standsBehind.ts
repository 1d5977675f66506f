import type { Rack, Shelf, Side } from '../../../shared-types/rack';
import { shelvesBeside, wallsBehind } from '../../engine/geometry';
import { list } from '../../words';

/** What is found behind sides of which nothing is said, by where the racks stand: `shelf 2 beside it`. */
export function standsBehind(shelf: Shelf, { shelves, room }: Rack): Partial<Record<Side, string>> {
  const found = shelvesBeside(shelf, shelves).filter((neighbour) => neighbour.found);
  const words = new Map<Side, string[]>();
  for (const { side, shelfId, board } of found) {
    const number = shelves.find(({ id }) => id === shelfId)?.number ?? '';
    const name = board > 0 ? `board of shelf ${number}` : `shelf ${number}`;
    words.set(side, [...(words.get(side) ?? []), name]);
  }
  for (const { side } of room ? wallsBehind(shelf, room) : []) {
    words.set(side, [...(words.get(side) ?? []), 'wall of the room']);
  }
  return Object.fromEntries([...words].map(([side, names]) => [side, `open to ${list(names)}`]));
}
