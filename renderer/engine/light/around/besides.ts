import {
  sides,
  type Lamp,
  type LampKind,
  type Shelf,
  type Side,
} from '../../../../shared-types/rack';
import { canopyHeightMm, looksBack } from '../../geometry';
import { kindOfLamp, type ShelfInRoom } from '../../lamps';
import type { BayBox } from '../bay';
import { bayParts, type BayPart } from '../parted/bayParts';
import type { ReadyLamp } from '../sources/direct';
import { asFaced, facingOf } from './facing';
import { patchesOf, transferBetween, type Transfer } from './wall';
import { seenThrough, type SideOpening } from './window';

/** A bay of another shelf that a bay's open side faces, and how light passes between the two. */
export interface Beside {
  side: Side;
  /** Its own side that looks back. */
  other: Side;
  part: BayPart;
  box: BayBox;
  /** From its side to the bay's, and back. */
  inwards: Transfer;
  outwards: Transfer;
  /** Its lamps as they are seen through both openings, in the bay's axes. */
  lamps: ReadyLamp[];
}

const axisOf = (side: Side): 'x' | 'y' => (side === 'left' || side === 'right' ? 'x' : 'y');

/** The opening of a bay's side in the bay's axes. */
export function openingOf({ size }: BayBox, side: Side): SideOpening {
  const { widthMm, depthMm, bottomMm, topMm } = size;
  const axis = axisOf(side);
  const far = axis === 'x' ? widthMm : depthMm;
  return {
    axis,
    atMm: side === 'left' || side === 'front' ? 0 : far,
    fromMm: 0,
    toMm: axis === 'x' ? depthMm : widthMm,
    bottomMm,
    topMm,
  };
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

/** The bays of other shelves that the sides of a bay face, with the lamps that shine in from there. */
export function besidesOf({ shelf, part, box, heightMm, lampKinds, boxOf }: BayAsked): Beside[] {
  return sides.flatMap((side) => {
    const facing = facingOf(part.shelf, side);
    if (facing.kind !== 'shelf') return [];
    const found = shelf.others?.find(({ id }) => id === facing.shelfId);
    if (!found) return [];
    const other = looksBack(side);
    const open = { ...found, faces: { ...found.faces, [other]: { kind: 'dark' as const } } };
    // Neighbours are taken to have grown as far as this shelf's plants.
    const grown = heightMm === canopyHeightMm(shelf, 'planting') ? 'planting' : 'harvest';
    const parts = bayParts(asFaced(open), lampKinds);
    return parts.flatMap((its) => {
      if (!reaches(found, its, other)) return [];
      const itsBox = boxOf(its.shelf, canopyHeightMm(found, grown));
      return itsBox
        ? [besideOf({ side, other, gapMm: facing.gapMm, box, part, found, shelf }, its, itsBox)]
        : [];
    });
  });
}

/** Whether a bay lies at a side of its shelf. */
function reaches(shelf: Shelf, { bay: { rect } }: BayPart, side: Side): boolean {
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

interface Between {
  side: Side;
  other: Side;
  gapMm: number;
  box: BayBox;
  part: BayPart;
  found: Shelf;
  shelf: Shelf;
}

function besideOf(between: Between, its: BayPart, itsBox: BayBox): Beside {
  const { side, other, gapMm, box, part, found, shelf } = between;
  const turned = side === other;
  const near = openingOf(box, side);
  // Shelves side by side have their fronts in one line, those back to back their right and left ends.
  const [own, theirs] = [part.bay.rect, its.bay.rect];
  const upMm = found.heightMm - shelf.heightMm;
  const level = axisOf(side) === 'x';
  const wide = level ? theirs.depthMm : theirs.widthMm;
  const start = level ? theirs.yMm - own.yMm : shelf.widthMm - theirs.xMm - wide - own.xMm;
  const gap = Math.max(gapMm, 1);
  const out = side === 'left' || side === 'front' ? -1 : 1;
  const far: SideOpening = {
    axis: near.axis,
    atMm: near.atMm + out * gap,
    fromMm: start,
    toMm: start + wide,
    bottomMm: itsBox.size.bottomMm + upMm,
    topMm: itsBox.size.topMm + upMm,
  };
  const move = (lamp: Lamp): Lamp => {
    const deep = level ? theirs.widthMm : theirs.depthMm;
    const across = level ? lamp.yMm : lamp.xMm;
    const inward = level ? lamp.xMm : lamp.yMm;
    const b = turned ? start + wide - across : start + across;
    const fromSide = other === 'left' || other === 'front' ? inward : deep - inward;
    const a = far.atMm + out * fromSide;
    const place = level ? { xMm: a, yMm: b } : { xMm: b, yMm: a };
    const rotationDeg = turned ? (lamp.rotationDeg + 180) % 360 : lamp.rotationDeg;
    return { ...lamp, ...place, zMm: lamp.zMm + upMm, rotationDeg };
  };
  const grid = box.faces[side];
  const patches = patchesOf(itsBox.faces[other]).map((patch) => {
    const { fromMm, toMm } = patch;
    const placed = turned
      ? { fromMm: start + wide - toMm, toMm: start + wide - fromMm }
      : { fromMm: start + fromMm, toMm: start + toMm };
    return { ...placed, bottomMm: patch.bottomMm + upMm, topMm: patch.topMm + upMm };
  });
  return {
    side,
    other,
    part: its,
    box: itsBox,
    inwards: transferBetween(patchesOf(grid), patches, gap),
    outwards: transferBetween(patches, patchesOf(grid), gap),
    lamps: its.shelf.lamps.map((lamp) =>
      seenThrough(move(lamp), kindOfLamp(its, lamp), [near, far]),
    ),
  };
}
