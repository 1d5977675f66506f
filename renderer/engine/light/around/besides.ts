import { type Lamp, type LampKind, type Shelf, type Side } from '../../../../shared-types/rack';
import { edgeOf } from './edge';
import { canopyHeightMm, inPose, type Neighbour, type Pose } from '../../geometry';
import { add } from '../../entry';
import { kindOfLamp, type ShelfInRoom } from '../../lamps';
import type { BayBox } from '../bay';
import { bayParts, type BayPart } from '../parted/bayParts';
import type { ReadyLamp } from '../sources/direct';
import { bayAlone, type BayAlone } from './bayAlone';
import { asFaced, facingOf, isClosed } from './facing';
import { outsideKey } from './keys';
import { patchesOf, through, transferBetween, type Transfer, type Upright } from './wall';
import { seenThrough, type SideOpening } from './window';

/** A bay of another shelf that a bay's open side faces, and how light passes between the two. */
export interface Beside {
  side: Side;
  /** Its own side that looks back. */
  other: Side;
  part: BayPart;
  box: BayBox;
  alone: BayAlone;
  /** From its side to the bay's, and back. */
  inwards: Transfer;
  outwards: Transfer;
  /** Its lamps as they are seen through both openings, in the bay's axes. */
  lamps: ReadyLamp[];
  /** Bays of further shelves that it faces, and what of their light falls on a side of it, by its patches. */
  beyond: { bayId: string; side: Side; upon: Float64Array }[];
}

/** How far the plants of other shelves are taken to have grown: as far as those of this one. */
export const grownAs = (shelf: Shelf, heightMm: number) =>
  (['planting', 'midway'] as const).find((at) => heightMm === canopyHeightMm(shelf, at)) ??
  'harvest';

const isLevel = (side: Side): boolean => side === 'left' || side === 'right';

/** The opening of a bay's side in the bay's axes. */
export function openingOf({ size }: BayBox, side: Side): SideOpening {
  const { widthMm, depthMm, bottomMm, topMm } = size;
  const [axis, far, toMm] = isLevel(side)
    ? (['x', widthMm, depthMm] as const)
    : (['y', depthMm, widthMm] as const);
  const atMm = side === 'left' || side === 'front' ? 0 : far;
  return { axis, atMm, fromMm: 0, toMm, bottomMm, topMm };
}

/** The bay whose surroundings are asked for. */
export interface BayAsked {
  shelf: ShelfInRoom;
  part: BayPart;
  box: BayBox;
  heightMm: number;
  lampKinds: readonly LampKind[];
  boxOf: (shelf: Shelf, heightMm: number) => BayBox | null;
}

/** A bay of another shelf across a gap, by itself. */
export interface Across {
  neighbour: Neighbour;
  shelf: Shelf;
  part: BayPart;
  box: BayBox;
}

/** The bays of other shelves that lie across the open sides of a bay. */
export function acrossFrom(asked: BayAsked, neighbours: readonly Neighbour[]): Across[] {
  const { shelf, part, heightMm, lampKinds, boxOf } = asked;
  const grown = grownAs(shelf, heightMm);
  return neighbours.flatMap((neighbour) => {
    const { side, other, shelfId, board } = neighbour;
    const found = shelf.others?.find(({ id }) => id === shelfId);
    if (!found || board > 0 || !reaches(shelf, part, side)) return [];
    return openPartsOf(found, other, lampKinds).flatMap((its) => {
      if (!reaches(found, its, other)) return [];
      const box = boxOf(its.shelf, canopyHeightMm(found, grown));
      return box ? [{ neighbour, shelf: found, part: its, box }] : [];
    });
  });
}

/** The bays of other shelves that the sides of a bay face, with the lamps that shine in from there. */
export const besidesOf = (asked: BayAsked): Beside[] =>
  acrossFrom(asked, asked.shelf.neighbours ?? []).map((across) => besideOf(asked, across));

// Bays that are asked for again and again are the same objects, so that what is known of them is kept.
const opened = new WeakMap<Shelf, { lampKinds: readonly LampKind[]; parts: BayPart[] }>();

/** The bays of a shelf with its open sides as nothing. */
export function partsOf(shelf: Shelf, lampKinds: readonly LampKind[]): BayPart[] {
  const before = opened.get(shelf);
  if (before?.lampKinds === lampKinds) return before.parts;
  const parts = bayParts(asFaced(shelf), lampKinds);
  opened.set(shelf, { lampKinds, parts });
  return parts;
}

/** The same whose one side is open, whatever it is said to face. */
function openPartsOf(shelf: Shelf, side: Side, lampKinds: readonly LampKind[]): BayPart[] {
  const facing = facingOf(shelf, side);
  if (isClosed(facing) && shelf.reflectances[side] > 0) {
    const faces = { ...shelf.faces, [side]: { kind: 'dark' as const } };
    return bayParts(asFaced({ ...shelf, faces }), lampKinds);
  }
  return partsOf(shelf, lampKinds);
}

/** Whether a bay lies at a side of its shelf. */
export function reaches(shelf: Shelf, { bay: { rect } }: BayPart, side: Side): boolean {
  switch (side) {
    case 'left':
      return rect.xMm < 0.05;
    case 'front':
      return rect.yMm < 0.05;
    case 'right':
      return rect.xMm + rect.widthMm > shelf.widthMm - 0.05;
    case 'back':
      return rect.yMm + rect.depthMm > shelf.depthMm - 0.05;
    default:
      return side satisfies never;
  }
}

/** The axes of a bay of another shelf in those of a bay. */
function betweenBays({ bay: { rect: own } }: BayPart, its: BayPart, pose: Pose): Pose {
  const [x, y] = inPose(pose, its.bay.rect.xMm, its.bay.rect.yMm);
  return { ...pose, xMm: x - own.xMm, yMm: y - own.yMm };
}

/** A side of a posed bay, along the plane that it lies in. */
function upright({ size }: BayBox, side: Side, pose: Pose): Upright & { turned: boolean } {
  const { widthMm: w, depthMm: d, bottomMm, topMm } = size;
  const [x1, y1, x2, y2] = edgeOf(side, w, d);
  const [from, to] = [inPose(pose, x1, y1), inPose(pose, x2, y2)];
  const along = Math.abs(to[0] - from[0]) > Math.abs(to[1] - from[1]) ? 0 : 1;
  const [a, b] = [from[along], to[along]];
  const { upMm } = pose;
  return {
    fromMm: Math.min(a, b),
    toMm: Math.max(a, b),
    bottomMm: bottomMm + upMm,
    topMm: topMm + upMm,
    turned: b < a,
  };
}

/** The patches of a posed bay's side, in the order of the side's own grid. */
export function patchesInPose(box: BayBox, side: Side, pose: Pose): Upright[] {
  const { fromMm, toMm, turned } = upright(box, side, pose);
  return patchesOf(box.faces[side]).map((patch) => {
    const placed = turned
      ? { fromMm: toMm - patch.toMm, toMm: toMm - patch.fromMm }
      : { fromMm: fromMm + patch.fromMm, toMm: fromMm + patch.toMm };
    return { ...placed, bottomMm: patch.bottomMm + pose.upMm, topMm: patch.topMm + pose.upMm };
  });
}

function besideOf(asked: BayAsked, across: Across): Beside {
  const { box, part, lampKinds } = asked;
  const { neighbour, shelf: found, part: its, box: itsBox } = across;
  const { side, other, gapMm } = neighbour;
  const pose = betweenBays(part, its, neighbour.pose);
  const near = openingOf(box, side);
  const out = side === 'left' || side === 'front' ? -1 : 1;
  const { turned: _, ...plane } = upright(itsBox, other, pose);
  const far: SideOpening = { ...plane, axis: near.axis, atMm: near.atMm + out * gapMm };
  const move = (lamp: Lamp): Lamp => {
    const [xMm, yMm] = inPose(pose, lamp.xMm, lamp.yMm);
    const rotationDeg = (lamp.rotationDeg + pose.turnDeg) % 360;
    return { ...lamp, xMm, yMm, zMm: lamp.zMm + pose.upMm, rotationDeg };
  };
  const own = patchesOf(box.faces[side]);
  const patches = patchesInPose(itsBox, other, pose);
  return {
    side,
    other,
    part: its,
    box: itsBox,
    alone: bayAlone(its, itsBox, { lamps: found.lamps, lampKinds }),
    inwards: transferBetween(own, patches, gapMm),
    outwards: transferBetween(patches, own, gapMm),
    lamps: its.shelf.lamps
      .map((lamp) => seenThrough(move(lamp), kindOfLamp(its, lamp), [near, far]))
      .map((lamp) => ({ ...lamp, group: outsideKey(its.bay.id) })),
    beyond: beyondOf(asked, across),
  };
}

/**
 * What a bay across a gap gets from the bays that it faces in turn, each as it is by itself. What these
 * get from still further ones, and what of it all goes to and fro between them, is left out.
 */
function beyondOf(asked: BayAsked, { shelf: found, part, box }: Across): Beside['beyond'] {
  const { shelf, lampKinds } = asked;
  const further = (shelf.theirs?.get(found.id) ?? []).filter(({ shelfId }) => shelfId !== shelf.id);
  const from: ShelfInRoom = { ...found, ...(shelf.others && { others: shelf.others }) };
  return acrossFrom({ ...asked, shelf: from, part, box }, further).map((across) => {
    const { side, other, gapMm, pose } = across.neighbour;
    const its = bayAlone(across.part, across.box, { lamps: across.shelf.lamps, lampKinds });
    const patches = patchesInPose(across.box, other, betweenBays(part, across.part, pose));
    const inwards = transferBetween(patchesOf(box.faces[side]), patches, gapMm);
    const upon = new Float64Array(inwards.rows);
    for (const values of its.leaves(other).values()) {
      through(inwards, values).forEach((value, i) => add(upon, i, value));
    }
    return { bayId: across.part.bay.id, side, upon };
  });
}
