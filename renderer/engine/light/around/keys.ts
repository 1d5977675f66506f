import { sides, type Side } from '../../../../shared-types/rack';

/** The lamp group that stands for all light from outside: readings scale it as one. */
export const OUTSIDE = 'light from outside';
const PREFIX = '\u0000';
const ROOM = 'room ';
/** Light of a room's own lamps through a side, and of the lamps of a bay of another shelf. */
export const roomKey = (side: Side): string => PREFIX + ROOM + side;
export const outsideKey = (bayId: string): string => PREFIX + bayId;

/** Light that escapes to the room and comes back: of other shelves' lamps, and of one's own by lamp group. */
export const RETURNED = 'returned by the room';
export const BACK = 'own returned by the room';
const BACK_OF = `${PREFIX}${BACK} `;
export const backKey = (group: string): string => BACK_OF + group;
/** The lamp group whose light comes back from the room; null for any other key. */
export const backGroupOf = (key: string): string | null =>
  key.startsWith(BACK_OF) ? key.slice(BACK_OF.length) : null;

/** The bay of another shelf, or the side to a room, that a key stands for; null for a lamp group. */
export const outsideOf = (key: string): string | null =>
  key.startsWith(PREFIX) ? key.slice(PREFIX.length) : null;

/** The side through which a room sends light; undefined where the light is from elsewhere. */
export const roomSideOf = (outside: string): Side | undefined =>
  sides.find((side) => outside === ROOM + side);
