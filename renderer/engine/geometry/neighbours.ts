import { sides, type Room, type Shelf, type Side } from '../../../shared-types/rack';
import { looksBack } from './sides';
import type { Rect } from './rect';
import {
  footprint,
  poseOf,
  quarterTurned,
  rectInPose,
  standKey,
  standOf,
  type Pose,
} from './stands';

/** A shelf that a side of a shelf faces, across a gap. */
export interface Neighbour {
  side: Side;
  shelfId: string;
  /** Its own side that looks back. */
  other: Side;
  gapMm: number;
  /** Its axes in those of the shelf. */
  pose: Pose;
  /** Whether its place in the room says so, or the person has named it. */
  found: boolean;
  /** Reflectance of a board that closes its side; 0: it is open. */
  board: number;
}

/** Farther off, a shelf's light is lost in that of the room. */
const FARTHEST_MM = 2000;
/** A wall or board farther off than this counts with the rest of the room. */
const CLOSE_WALL_MM = 300;
/** Shelves of two racks that overlap by less stand corner to corner. */
const LEAST_OVERLAP_MM = 10;
const TOUCHING_MM = 0.05;
/** Two openings in one plane would see nothing of each other. */
const LEAST_GAP_MM = 1;

/** The way out of a side, in the shelf's axes. */
export const OUTWARDS: Record<Side, readonly [number, number]> = {
  left: [-1, 0],
  right: [1, 0],
  front: [0, -1],
  back: [0, 1],
};

/** The sides of a shelf that nobody has said anything of, and on which nothing is. */
const isFree = (shelf: Shelf, side: Side): boolean => !shelf.faces?.[side];

/**
 * The shelves that the sides of a shelf face: those that the person has named, and on sides of which
 * nothing is said those that stand there, of other racks, about as high, with nothing between.
 */
export function shelvesBeside(shelf: Shelf, shelves: readonly Shelf[]): readonly Neighbour[] {
  const of = known.get(shelves) ?? new Map<string, readonly Neighbour[]>();
  known.set(shelves, of);
  const before = of.get(shelf.id);
  if (before) return before;
  const found = findNeighbours(shelf, shelves);
  of.set(shelf.id, found);
  return found;
}

// Racks are immutable: what stands where in one stays true.
const known = new WeakMap<readonly Shelf[], Map<string, readonly Neighbour[]>>();

function findNeighbours(shelf: Shelf, shelves: readonly Shelf[]): Neighbour[] {
  const others = shelves.filter(({ id }) => id !== shelf.id);
  return sides.flatMap((side): Neighbour[] => {
    const facing = shelf.faces?.[side];
    if (facing?.kind === 'shelf') {
      const other = others.find(({ id }) => id === facing.shelfId);
      return other ? [namedAt(shelf, side, other, facing.gapMm)] : [];
    }
    if (facing || shelf.reflectances[side] > 0) return [];
    return others.flatMap((other) => foundAt(shelf, side, other, others) ?? []);
  });
}

/** Walls of the room close behind sides of which nothing is said. */
export function wallsBehind(
  shelf: Shelf,
  { widthMm, depthMm }: Pick<Room, 'widthMm' | 'depthMm'>,
): { side: Side; distanceMm: number }[] {
  const { turnDeg } = standOf(shelf);
  const outline = footprint(shelf);
  return sides.flatMap((side) => {
    if (!isFree(shelf, side) || shelf.reflectances[side] > 0) return [];
    const [x, y] = quarterTurned(turnDeg, ...OUTWARDS[side]);
    const far =
      x < 0
        ? outline.xMm
        : x > 0
          ? widthMm - outline.xMm - outline.widthMm
          : y < 0
            ? outline.yMm
            : depthMm - outline.yMm - outline.depthMm;
    return far <= CLOSE_WALL_MM ? [{ side, distanceMm: Math.max(far, LEAST_GAP_MM) }] : [];
  });
}

/** The light of a shelf depends on these, in the order of the rack. */
export function facedShelves(shelf: Shelf, shelves: readonly Shelf[]): string[] {
  const faced = new Set(shelvesBeside(shelf, shelves).map(({ shelfId }) => shelfId));
  return shelves.flatMap(({ id }) => (faced.has(id) ? [id] : []));
}

/** Named shelves stand with their fronts in one line, or back to back, or front to front. */
function namedAt(shelf: Shelf, side: Side, other: Shelf, typedMm: number): Neighbour {
  const gapMm = Math.max(typedMm, LEAST_GAP_MM);
  const places: Record<Side, Omit<Pose, 'upMm'>> = {
    left: { turnDeg: 0, xMm: -gapMm - other.widthMm, yMm: 0 },
    right: { turnDeg: 0, xMm: shelf.widthMm + gapMm, yMm: 0 },
    front: { turnDeg: 180, xMm: shelf.widthMm, yMm: -gapMm },
    back: { turnDeg: 180, xMm: shelf.widthMm, yMm: shelf.depthMm + gapMm + other.depthMm },
  };
  return {
    side,
    shelfId: other.id,
    other: looksBack(side),
    gapMm,
    found: false,
    board: 0,
    pose: { ...places[side], upMm: other.heightMm - shelf.heightMm },
  };
}

function foundAt(
  shelf: Shelf,
  side: Side,
  other: Shelf,
  others: readonly Shelf[],
): Neighbour | null {
  if (standKey(other) === standKey(shelf)) return null;
  const pose = poseOf(other, shelf);
  const back = sides.find((one) => {
    const [x, y] = quarterTurned(pose.turnDeg, ...OUTWARDS[one]);
    return x === -OUTWARDS[side][0] && y === -OUTWARDS[side][1];
  });
  if (!back || !isFree(other, back)) return null;
  const between = gapTo(shelf, side, outlineOf(other, pose));
  if (!between || between.gapMm > FARTHEST_MM) return null;
  if (apartUpwards(shelf, other) > between.gapMm / 2) return null;
  const hidden = others.some(
    (third) =>
      third !== other && standsIn(between, shelf, third) && apartUpwards(shelf, third) <= 0,
  );
  if (hidden) return null;
  const gapMm = Math.max(between.gapMm, LEAST_GAP_MM);
  const board = other.reflectances[back];
  if (board > 0 && between.gapMm > CLOSE_WALL_MM) return null;
  return { side, shelfId: other.id, other: back, gapMm, pose, found: true, board };
}

const outlineOf = ({ widthMm, depthMm }: Shelf, pose: Pose): Rect =>
  rectInPose(pose, { xMm: 0, yMm: 0, widthMm, depthMm });

interface Gap {
  gapMm: number;
  rect: Rect;
}

/** What lies between a side and an outline beyond it, both in the shelf's axes; null: not across. */
function gapTo({ widthMm, depthMm }: Shelf, side: Side, its: Rect): Gap | null {
  const level = side === 'left' || side === 'right';
  const gaps: Record<Side, number> = {
    left: -its.xMm - its.widthMm,
    right: its.xMm - widthMm,
    front: -its.yMm - its.depthMm,
    back: its.yMm - depthMm,
  };
  const gapMm = gaps[side];
  if (gapMm < -TOUCHING_MM) return null;
  const from = Math.max(0, level ? its.yMm : its.xMm);
  const to = level
    ? Math.min(depthMm, its.yMm + its.depthMm)
    : Math.min(widthMm, its.xMm + its.widthMm);
  if (to - from < LEAST_OVERLAP_MM) return null;
  const starts: Record<Side, number> = {
    left: -gapMm,
    right: widthMm,
    front: -gapMm,
    back: depthMm,
  };
  const start = starts[side];
  const rect = level
    ? { xMm: start, yMm: from, widthMm: gapMm, depthMm: to - from }
    : { xMm: from, yMm: start, widthMm: to - from, depthMm: gapMm };
  return { gapMm: Math.max(0, gapMm), rect };
}

/** How far two bays are apart upwards; less than 0 where they overlap. */
function apartUpwards(a: Shelf, b: Shelf): number {
  return Math.max(a.heightMm - b.heightMm - b.clearanceMm, b.heightMm - a.heightMm - a.clearanceMm);
}

/** Whether a third shelf fills more than half of what lies between two. */
function standsIn({ rect }: Gap, shelf: Shelf, third: Shelf): boolean {
  if (standKey(third) === standKey(shelf)) return false;
  const its = outlineOf(third, poseOf(third, shelf));
  const shared = (from: 'xMm' | 'yMm', span: 'widthMm' | 'depthMm') =>
    Math.min(rect[from] + rect[span], its[from] + its[span]) - Math.max(rect[from], its[from]);
  const [x, y] = [shared('xMm', 'widthMm'), shared('yMm', 'depthMm')];
  if (x <= TOUCHING_MM || y <= TOUCHING_MM) return false;
  return x > rect.widthMm / 2 || y > rect.depthMm / 2;
}
