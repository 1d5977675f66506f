import type { QuarterTurn, Shelf, RackPlace } from '../../../shared-types/rack';
import type { Rect } from './rect';

const AT_ORIGIN: RackPlace = { xMm: 0, yMm: 0, turnDeg: 0 };

export const standOf = ({ stands }: Pick<Shelf, 'stands'>): RackPlace => stands ?? AT_ORIGIN;

/** The same for all shelves of one rack. */
export function standKey(shelf: Pick<Shelf, 'stands'>): string {
  const { xMm, yMm, turnDeg } = standOf(shelf);
  return `${xMm} ${yMm} ${turnDeg}`;
}

/** Shelves that stand alike. */
export type RackOf<S> = [S, ...S[]];

/** The racks of a room in the order of their first shelf: shelves that stand alike are one. */
export function racksInRoom<S extends Pick<Shelf, 'stands'>>(shelves: readonly S[]): RackOf<S>[] {
  const racks = new Map<string, RackOf<S>>();
  for (const shelf of shelves) {
    const key = standKey(shelf);
    const rack = racks.get(key);
    if (rack) rack.push(shelf);
    else racks.set(key, [shelf]);
  }
  return [...racks.values()];
}

/** The shelves of one's own rack, itself among them. */
export const sameRack = <S extends Pick<Shelf, 'stands'>>(
  shelves: readonly S[],
  shelf: Pick<Shelf, 'stands'>,
): S[] => shelves.filter((one) => standKey(one) === standKey(shelf));

/** All shelves rack by rack, in each the lowest first. */
export const upwardsByRack = <S extends Pick<Shelf, 'stands' | 'heightMm'>>(
  shelves: readonly S[],
): S[] => racksInRoom(shelves).flatMap((rack) => [...rack].sort((a, b) => a.heightMm - b.heightMm));

/** One set of level axes in another: turned anticlockwise, then moved, mm. */
export interface Pose extends RackPlace {
  /** Its height over the other's. */
  upMm: number;
}

/** A level direction or place turned by quarter turns, anticlockwise from above. */
export function quarterTurned(turnDeg: QuarterTurn, x: number, y: number): [x: number, y: number] {
  switch (turnDeg) {
    case 0:
      return [x, y];
    case 90:
      return [-y, x];
    case 180:
      return [-x, -y];
    case 270:
      return [y, -x];
    default:
      return turnDeg satisfies never;
  }
}

const QUARTERS: readonly QuarterTurn[] = [0, 90, 180, 270];

/** The turn that makes up for the first so that the second is left. */
const turnBetween = (from: QuarterTurn, to: QuarterTurn): QuarterTurn =>
  QUARTERS[((to - from + 360) % 360) / 90] ?? 0;

/** A place of the posed axes, in the axes that they are posed in. */
export function inPose({ turnDeg, xMm, yMm }: RackPlace, x: number, y: number): [number, number] {
  const [dx, dy] = quarterTurned(turnDeg, x, y);
  return [xMm + dx, yMm + dy];
}

/** A rectangle of the posed axes, in the axes that they are posed in. */
export function rectInPose(pose: RackPlace, { xMm, yMm, widthMm, depthMm }: Rect): Rect {
  const [x1, y1] = inPose(pose, xMm, yMm);
  const [x2, y2] = inPose(pose, xMm + widthMm, yMm + depthMm);
  return {
    xMm: Math.min(x1, x2),
    yMm: Math.min(y1, y2),
    widthMm: Math.abs(x2 - x1),
    depthMm: Math.abs(y2 - y1),
  };
}

type Standing = Pick<Shelf, 'stands' | 'widthMm' | 'depthMm' | 'heightMm'>;

/** A shelf's outline in the room, from above. */
export const footprint = (shelf: Standing): Rect =>
  rectInPose(standOf(shelf), {
    xMm: 0,
    yMm: 0,
    widthMm: shelf.widthMm,
    depthMm: shelf.depthMm,
  });

/** The axes of another shelf in those of a shelf, both as they stand in the room. */
export function poseOf(other: Standing, shelf: Standing): Pose {
  const [own, its] = [standOf(shelf), standOf(other)];
  const back = turnBetween(own.turnDeg, 0);
  const [xMm, yMm] = quarterTurned(back, its.xMm - own.xMm, its.yMm - own.yMm);
  return {
    turnDeg: turnBetween(own.turnDeg, its.turnDeg),
    xMm,
    yMm,
    upMm: other.heightMm - shelf.heightMm,
  };
}
