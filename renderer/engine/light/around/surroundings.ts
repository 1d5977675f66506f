import { sides, type Side } from '../../../../shared-types/rack';
import { kindOfLamp } from '../../lamps';
import type { ReadyLamp } from '../sources/direct';
import type { BayPart } from '../parted/bayParts';
import { besidesOf, openingOf, reaches, type BayAsked, type Beside } from './besides';
import { facingOf } from './facing';
import { backKey, outsideKey, RETURNED, roomKey } from './keys';
import { imagesOf, type Image } from './mirrors';
import type { Returned } from './returned';
import { wallBehind, type Wall } from './wall';
import { seenThrough } from './window';

/** What is around one bay. */
export interface Surroundings {
  /** Of its lamps, in its foils. */
  images: Image[];
  walls: { side: Side; wall: Wall; lamps: ReadyLamp[] }[];
  /** Even light upon a side, by key, µmol m⁻² s⁻¹. */
  rooms: { side: Side; key: string; ppfdUmol: number }[];
  besides: Beside[];
}

/** Whether all is as the bay itself makes it. */
export const isBare = ({ walls, rooms, besides }: Surroundings): boolean =>
  walls.length + rooms.length + besides.length === 0;

export function surroundingsOf(asked: BayAsked, returned: Returned | null): Surroundings {
  const { shelf, part, box } = asked;
  const found: Surroundings = {
    images: imagesOf(part.shelf),
    walls: [],
    rooms: [],
    besides: besidesOf(asked),
  };
  const behind = (side: Side, { reflectance, distanceMm }: WallAt) => {
    const opening = openingOf(box, side);
    const lamps = part.shelf.lamps.map((lamp) =>
      seenThrough(lamp, kindOfLamp(part, lamp), [opening]),
    );
    found.walls.push({ side, wall: wallBehind(box, side, { reflectance, distanceMm }), lamps });
  };
  for (const side of sides) {
    if (!reaches(shelf, part, side)) continue;
    const facing = facingOf(part.shelf, side);
    switch (facing.kind) {
      case 'wall':
        behind(side, facing);
        break;
      case 'lit':
        found.rooms.push({
          side,
          key: roomKey(side),
          ppfdUmol: (facing.lowestUmol + facing.highestUmol) / 2,
        });
        break;
      case 'matt': {
        const close = shelf.behind?.[side];
        if (close) behind(side, close);
        found.rooms.push(...returnedUpon(part, side, returned));
        break;
      }
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

interface WallAt {
  reflectance: number;
  distanceMm: number;
}

/** What the room gives back upon a side of a bay. */
export function returnedUpon(
  { bay: { id } }: BayPart,
  side: Side,
  returned: Returned | null,
): Surroundings['rooms'] {
  if (!returned) return [];
  const own = [...returned.own(id, side)].map(([group, ppfd]) => [backKey(group), ppfd] as const);
  return [...own, [outsideKey(RETURNED), returned.others(id, side)] as const].flatMap(
    ([key, ppfdUmol]) => (ppfdUmol > 0 ? [{ side, key, ppfdUmol }] : []),
  );
}
