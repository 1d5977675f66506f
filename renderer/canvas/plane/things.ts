import { boardRect, trayCode, turnedBounds } from '../../engine/geometry';
import { litSize } from '../../engine/lamps';
import type { Pot } from '../../engine/geometry';
import type { Board, Lamp, LampKind, Shelf, Tray } from '../../../shared-types/rack';
import type { Box, Point } from './box';
import { shifted } from './box';
import { refTo } from '../../document/queries/refs';

/** All racks from the front, one shelf from above, or all shelves from above, stacked. */
export type ViewName = 'front' | 'above' | 'all';

/** Whether shelves are looked down on: up on the plane is then to the back of the shelf. */
export const fromAbove = (view: ViewName) => view !== 'front';

/** Drawn thickness of a shelf board and of a lamp's body: for the eye only, nothing is computed from it. */
export const BOARD_MM = 24;
export const LAMP_BODY_MM = 26;
/** A lamp thinner than this is drawn this wide, so that it can be seen and grasped. */
export const LEAST_LAMP_MM = 24;

interface Common {
  ref: string;
  shelf: Shelf;
  /** Where the shelf's own 0,0 lies on the drawing plane; from the front on the floor below its rack's corner. */
  origin: Point;
  /** Outline on the drawing plane. */
  box: Box;
  /** `Tray 2B`, `Shelf 2`, `Lamp 3 over shelf 2`. */
  name: string;
}

export type Thing =
  | (Common & {
      kind: 'shelf';
      /** Room over the board, up to its clearance (front view). */ bay: Box;
    })
  | (Common & { kind: 'tray'; tray: Tray; potCount: number })
  | (Common & {
      kind: 'lamp';
      lamp: Lamp;
      lampKind: LampKind;
      corners: readonly Point[];
      /** Its photon flux as dimmed, as a share of the strongest lamp's on the rack at full output. */
      glow: number;
    })
  | (Common & { kind: 'board'; board: Board });

export type TrayThing = Extract<Thing, { kind: 'tray' }>;
export type BoardThing = Extract<Thing, { kind: 'board' }>;
export type LampThing = Extract<Thing, { kind: 'lamp' }>;
export type ShelfThing = Extract<Thing, { kind: 'shelf' }>;

/** A pot where it stands on the plane: a circle from above, an upright rectangle from the front. */
export interface PotOnPlane {
  ref: string;
  pot: Pot;
  centre: Point;
  halfWidth: number;
  halfHeight: number;
}

/** A lamp's lit face, wide enough to be seen and grasped. */
function drawnSize(kind: LampKind): { lengthMm: number; widthMm: number } {
  const { lengthMm, widthMm } = litSize(kind);
  return { lengthMm: Math.max(lengthMm, LEAST_LAMP_MM), widthMm: Math.max(widthMm, LEAST_LAMP_MM) };
}

function lampCorners(lamp: Lamp, kind: LampKind, origin: Point): Point[] {
  const drawn = drawnSize(kind);
  const [along, across] = [drawn.lengthMm / 2, drawn.widthMm / 2];
  const turn = (lamp.rotationDeg * Math.PI) / 180;
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  return (
    [
      [-along, -across],
      [along, -across],
      [along, across],
      [-along, across],
    ] as const
  ).map(([x, y]) => ({
    across: origin.across + lamp.xMm + x * c - y * s,
    up: origin.up + lamp.yMm + x * s + y * c,
  }));
}

export function lampThing(at: Standing, lamp: Lamp, kind: LampKind, nth: number, glow = 1): Thing {
  const { above, shelf, origin } = at;
  const { lengthMm, widthMm } = drawnSize(kind);
  const turned = turnedBounds(lamp, lengthMm, widthMm, lamp.rotationDeg);
  const left = turned.xMm;
  const right = turned.xMm + turned.widthMm;
  const face = shelf.heightMm + lamp.zMm;
  const box: Box = above
    ? shifted(
        { left, right, bottom: turned.yMm, top: turned.yMm + turned.depthMm },
        origin.across,
        origin.up,
      )
    : {
        left: origin.across + left,
        right: origin.across + right,
        bottom: face,
        top: face + LAMP_BODY_MM,
      };
  const corners = above
    ? lampCorners(lamp, kind, origin)
    : [
        { across: box.left, up: box.bottom },
        { across: box.right, up: box.bottom },
        { across: box.right, up: box.top },
        { across: box.left, up: box.top },
      ];
  return {
    kind: 'lamp',
    ref: refTo('lamp', lamp.id),
    shelf,
    origin,
    box,
    name: `Lamp ${nth} over shelf ${shelf.number}`,
    lamp,
    lampKind: kind,
    corners,
    glow,
  };
}

export function trayThing({ above, shelf, origin }: Standing, tray: Tray, potCount: number): Thing {
  const left = origin.across + tray.xMm;
  const across = { left, right: left + tray.widthMm };
  const front = origin.up + tray.yMm;
  return {
    kind: 'tray',
    ref: refTo('tray', tray.id),
    shelf,
    origin,
    box: above
      ? { ...across, bottom: front, top: front + tray.depthMm }
      : { ...across, bottom: shelf.heightMm, top: shelf.heightMm + tray.rimHeightMm },
    name: `Tray ${trayCode(shelf.number, tray.letter)}`,
    tray,
    potCount,
  };
}

/** From the front a lengthwise board covers its whole shelf and cannot be told from it. */
export function boardThings({ above, shelf, origin }: Standing): Thing[] {
  return (shelf.boards ?? []).flatMap((board, i): Thing[] => {
    if (!above && board.direction === 'lengthwise') return [];
    const { xMm, yMm, widthMm, depthMm } = boardRect(shelf, board);
    const across = { left: origin.across + xMm, right: origin.across + xMm + widthMm };
    const box: Box = above
      ? { ...across, bottom: origin.up + yMm, top: origin.up + yMm + depthMm }
      : {
          ...across,
          bottom: shelf.heightMm + board.downToMm,
          top: shelf.heightMm + shelf.clearanceMm,
        };
    const name = `Board ${i + 1} on shelf ${shelf.number}`;
    return [{ kind: 'board', ref: refTo('board', board.id), shelf, origin, box, name, board }];
  });
}

export function shelfThing({ above, shelf, origin }: Standing): Thing {
  const across = { left: origin.across, right: origin.across + shelf.widthMm };
  const bay: Box = {
    ...across,
    bottom: shelf.heightMm,
    top: shelf.heightMm + shelf.clearanceMm,
  };
  return {
    kind: 'shelf',
    ref: refTo('shelf', shelf.id),
    shelf,
    origin,
    box: above
      ? shifted(
          { left: 0, right: shelf.widthMm, bottom: 0, top: shelf.depthMm },
          origin.across,
          origin.up,
        )
      : { ...across, bottom: shelf.heightMm - BOARD_MM, top: shelf.heightMm },
    bay,
    name: `Shelf ${shelf.number}`,
  };
}

export function placed({ above, shelf, origin }: Standing, pot: Pot): PotOnPlane {
  const half = pot.diameterMm / 2;
  return above
    ? {
        ref: refTo('pot', pot.id),
        pot,
        centre: { across: origin.across + pot.xMm, up: origin.up + pot.yMm },
        halfWidth: half,
        halfHeight: half,
      }
    : {
        ref: refTo('pot', pot.id),
        pot,
        centre: { across: origin.across + pot.xMm, up: shelf.heightMm + pot.heightMm / 2 },
        halfWidth: half,
        halfHeight: pot.heightMm / 2,
      };
}

/** A shelf in one view, with the place of its own 0,0 on the plane. */
export interface Standing {
  above: boolean;
  shelf: Shelf;
  origin: Point;
}
