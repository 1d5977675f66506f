import type { QuarterTurn, RackPlace, Shelf } from '../../../../shared-types/rack';
import { boundsOf, footprint, quarterTurned, standOf, type Rect } from '../../../engine/geometry';

/** A rack as it is drawn in its room: shelves that stand alike. */
export type RackOfRoom = readonly [Shelf, ...Shelf[]];

/** Between two racks that are put side by side, mm (common practice: a hand's breadth). */
const ASIDE_MM = 50;

/** Outline of a rack in the room, from above. */
export const outlineOfRack = (rack: RackOfRoom): Rect => boundsOf(rack.map(footprint));

/** `Shelf 2`, `Shelves 1 to 3`, `Shelves 1, 4 and 5`. */
export function rackName(rack: RackOfRoom): string {
  const numbers = rack.map(({ number }) => number).sort((a, b) => a - b);
  const [first, last] = [numbers[0], numbers.at(-1)];
  if (numbers.length === 1) return `Shelf ${first}`;
  const unbroken = numbers.every((number, i) => number === (first ?? 0) + i);
  return unbroken && numbers.length > 2
    ? `Shelves ${first} to ${last}`
    : `Shelves ${numbers.slice(0, -1).join(', ')} and ${last}`;
}

/** The place of a rack whose outline begins at a corner. */
export function placedAt(rack: RackOfRoom, xMm: number, yMm: number): RackPlace {
  const outline = outlineOfRack(rack);
  const place = standOf(rack[0]);
  return { ...place, xMm: place.xMm + xMm - outline.xMm, yMm: place.yMm + yMm - outline.yMm };
}

const NEXT: Record<QuarterTurn, QuarterTurn> = { 0: 90, 90: 180, 180: 270, 270: 0 };

/** A rack turned by a quarter about the middle of its outline, which stays on whole millimetres. */
export function quarterOn(rack: RackOfRoom): RackPlace {
  const place = standOf(rack[0]);
  const { xMm, yMm, widthMm, depthMm } = outlineOfRack(rack);
  const [x, y] = quarterTurned(90, place.xMm - xMm - widthMm / 2, place.yMm - yMm - depthMm / 2);
  return {
    xMm: Math.round(xMm + widthMm / 2 + x),
    yMm: Math.round(yMm + depthMm / 2 + y),
    turnDeg: NEXT[place.turnDeg],
  };
}

/** The place to the right of all racks. */
export function besideAll(rack: RackOfRoom, racks: readonly RackOfRoom[]): RackPlace {
  const all = boundsOf(racks.map(outlineOfRack));
  return placedAt(rack, all.xMm + all.widthMm + ASIDE_MM, outlineOfRack(rack).yMm);
}
