import type { Lamp, LampKind, Shelf, Side } from '../../../../shared-types/rack';
import { bayAt, baysOf, boardsAlong, type Bay } from '../../geometry';
import { kindOfLamp } from '../../lamps';
import { lampFrameOf } from '../sources/frame';
import { atLeast, partOf, reachOf, type Reach } from './lampPart';

/** A bay as a shelf of its own, in axes that begin at its front left corner. */
export interface BayPart {
  bay: Bay;
  shelf: Shelf;
  lampKinds: readonly LampKind[];
}

/**
 * The bays of a shelf, each with the lamps that hang in it and the boards as its sides. A lamp that
 * crosses a board is taken as if it were cut there, its photons shared out by length.
 */
export function bayParts(shelf: Shelf, lampKinds: readonly LampKind[]): BayPart[] {
  const bays = baysOf(shelf);
  const [first, ...others] = bays;
  if (others.length === 0) return [{ bay: first, shelf, lampKinds }];
  return bays.map((bay) => {
    const kinds: LampKind[] = [];
    const lamps = shelf.lamps.flatMap((lamp): Lamp[] => {
      const kind = kindOfLamp({ lampKinds }, lamp);
      const part =
        bayAt(bays, lamp.xMm, lamp.yMm) === bay && !crosses(shelf, lamp, kind)
          ? { lamp, kind }
          : cutTo(shelf, bay, lamp, kind);
      if (!part) return [];
      const id = `${kind.id}-${kinds.length}`;
      kinds.push({ ...part.kind, id });
      const { xMm, yMm } = part.lamp;
      const place = { xMm: xMm - bay.rect.xMm, yMm: yMm - bay.rect.yMm };
      return [{ ...part.lamp, ...place, kindId: id }];
    });
    return { bay, shelf: asShelf(shelf, bay, lamps), lampKinds: kinds };
  });
}

interface Bounds {
  x: Reach;
  y: Reach;
}

/** From the middle of one board to that of the next; without end where a side of the shelf is. */
function boundsOf(shelf: Shelf, { rect }: Bay): Bounds {
  const between = (direction: 'across' | 'lengthwise', fromMm: number, spanMm: number): Reach => {
    const middles = boardsAlong(shelf, direction).map(({ atMm }) => atMm);
    const before = middles.filter((mm) => mm <= fromMm + 0.05).at(-1);
    const after = middles.find((mm) => mm >= fromMm + spanMm - 0.05);
    return [before ?? -Infinity, after ?? Infinity];
  };
  return {
    x: between('across', rect.xMm, rect.widthMm),
    y: between('lengthwise', rect.yMm, rect.depthMm),
  };
}

/** Whether a board stands in a lamp's way. */
export function crosses(shelf: Shelf, lamp: Lamp, kind: LampKind): boolean {
  const bays = baysOf(shelf);
  const home = bayAt(bays, lamp.xMm, lamp.yMm);
  const whole = reachOf(kind);
  const kept = within(boundsOf(shelf, home), lamp, kind);
  return (
    kept.along[0] > whole.along[0] + 0.05 ||
    kept.along[1] < whole.along[1] - 0.05 ||
    kept.across[0] > whole.across[0] + 0.05 ||
    kept.across[1] < whole.across[1] - 0.05
  );
}

function cutTo(shelf: Shelf, bay: Bay, lamp: Lamp, kind: LampKind) {
  const kept = within(boundsOf(shelf, bay), lamp, kind);
  return partOf(lamp, kind, kept.along, kept.across);
}

/** What of a lamp's lit face lies within bounds: cut across its length first, then its width. */
function within({ x, y }: Bounds, lamp: Lamp, kind: LampKind): { along: Reach; across: Reach } {
  const { cx, cy, ux, uy, vx, vy } = lampFrameOf(lamp);
  let { along, across } = reachOf(kind);
  const sides = [
    [cx, ux, vx, x],
    [cy, uy, vy, y],
  ] as const;
  for (const [centre, u, v, [least, most]] of sides) {
    // A lamp is cut across the side that lies more nearly at right angles to the board.
    if (Math.abs(u) >= Math.abs(v) || across[0] === across[1]) {
      along = atLeast(along, centre, u, least);
      along = atLeast(along, -centre, -u, -most);
    } else {
      across = atLeast(across, centre, v, least);
      across = atLeast(across, -centre, -v, -most);
    }
  }
  return { along, across };
}

function asShelf(shelf: Shelf, { rect }: Bay, lamps: Lamp[]): Shelf {
  const { boards, bays, ...whole } = shelf;
  const reflectanceAt = (direction: 'across' | 'lengthwise', faceMm: number, outer: number) =>
    boardsAlong({ boards }, direction).find(
      ({ atMm, thicknessMm }) => Math.abs(Math.abs(atMm - faceMm) - thicknessMm / 2) < 0.05,
    )?.reflectance ?? outer;
  const { reflectances, faces } = shelf;
  // A side that is a board faces nothing but the board.
  const at = (side: Side, outer: boolean) =>
    outer && faces?.[side] ? { [side]: faces[side] } : {};
  const right = rect.xMm + rect.widthMm > shelf.widthMm - 0.05;
  const back = rect.yMm + rect.depthMm > shelf.depthMm - 0.05;
  return {
    ...whole,
    ...(faces && {
      faces: {
        ...at('left', rect.xMm < 0.05),
        ...at('right', right),
        ...at('front', rect.yMm < 0.05),
        ...at('back', back),
      },
    }),
    widthMm: rect.widthMm,
    depthMm: rect.depthMm,
    lamps,
    trays: [],
    reflectances: {
      ...reflectances,
      left: reflectanceAt('across', rect.xMm, reflectances.left),
      right: reflectanceAt('across', rect.xMm + rect.widthMm, reflectances.right),
      front: reflectanceAt('lengthwise', rect.yMm, reflectances.front),
      back: reflectanceAt('lengthwise', rect.yMm + rect.depthMm, reflectances.back),
    },
  };
}
