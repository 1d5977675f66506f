import { sides, type Side } from '../../../../shared-types/rack';
import { kindOfLamp } from '../../lamps';
import type { ReadyLamp } from '../sources/direct';
import { besidesOf, openingOf, type BayAsked, type Beside } from './besides';
import { facingOf } from './facing';
import { imagesOf, type Image } from './mirrors';
import { wallBehind, type Wall } from './wall';
import { seenThrough } from './window';

/** The lamp group that stands for all light from outside: readings scale it as one. */
export const OUTSIDE = 'light from outside';
const PREFIX = '\u0000';
const ROOM = 'room ';
/** Light of a room's own lamps through a side, and of the lamps of a bay of another shelf. */
export const roomKey = (side: Side): string => PREFIX + ROOM + side;
export const outsideKey = (bayId: string): string => PREFIX + bayId;

/** The bay of another shelf, or the side to a room, that a key stands for; null for a lamp group. */
export const outsideOf = (key: string): string | null =>
  key.startsWith(PREFIX) ? key.slice(PREFIX.length) : null;

/** The side through which a room sends light; undefined where the light is from elsewhere. */
export const roomSideOf = (outside: string): Side | undefined =>
  sides.find((side) => outside === ROOM + side);

/** What is around one bay. */
export interface Surroundings {
  /** Of its lamps, in its foils. */
  images: Image[];
  walls: { side: Side; wall: Wall; lamps: ReadyLamp[] }[];
  rooms: { side: Side; ppfdUmol: number }[];
  besides: Beside[];
}

/** Whether all is as the bay itself makes it. */
export const isBare = ({ walls, rooms, besides }: Surroundings): boolean =>
  walls.length + rooms.length + besides.length === 0;

export function surroundingsOf(asked: BayAsked): Surroundings {
  const { part, box } = asked;
  const found: Surroundings = {
    images: imagesOf(part.shelf),
    walls: [],
    rooms: [],
    besides: part.shelf.faces ? besidesOf(asked).map(asFromOutside) : [],
  };
  for (const side of sides) {
    const facing = facingOf(part.shelf, side);
    switch (facing.kind) {
      case 'wall': {
        const opening = openingOf(box, side);
        const lamps = part.shelf.lamps.map((lamp) =>
          seenThrough(lamp, kindOfLamp(part, lamp), [opening]),
        );
        found.walls.push({ side, wall: wallBehind(box, side, facing), lamps });
        break;
      }
      case 'lit': {
        const ppfdUmol = (facing.lowestUmol + facing.highestUmol) / 2;
        found.rooms.push({ side, ppfdUmol });
        break;
      }
      case 'matt':
      case 'foil':
      case 'dark':
      case 'shelf':
        break;
      default:
        facing satisfies never;
    }
  }
  return found;
}

const asFromOutside = (beside: Beside): Beside => ({
  ...beside,
  lamps: beside.lamps.map((lamp) => ({ ...lamp, group: outsideKey(beside.part.bay.id) })),
});
