import { boardRect, findShelf, potsOfTray, trayCode, turnedBounds } from '../../engine/geometry';
import { kindOfLamp, litSize } from '../../engine/lamps';
import type { Pot } from '../../engine/geometry';
import type { Board, Lamp, LampKind, Rack, Shelf, Tray } from '../../../shared-types/rack';
import type { Box, Point } from './box';
import { boxAround, shifted } from './box';
import { gridIndex } from './gridIndex';
import type { GridIndex } from './gridIndex';
import { refTo } from '../../document/queries/refs';

/** The whole rack from the front, one shelf from above, or all shelves from above, stacked. */
export type ViewName = 'front' | 'above' | 'all';

/** Whether shelves are looked down on: up on the plane is then to the back of the shelf. */
export const fromAbove = (view: ViewName) => view !== 'front';

/** Drawn thickness of a shelf board and of a lamp's body: for the eye only, nothing is computed from it. */
export const BOARD_MM = 24;
export const LAMP_BODY_MM = 26;
/** A lamp thinner than this is drawn this wide, so that it can be seen and grasped. */
export const LEAST_LAMP_MM = 24;
/** Between two shelves that are shown from above together: for their names, and to tell them apart. */
const LEAST_GAP_MM = 60;
const GAP_SHARE = 0.14;

interface Common {
  ref: string;
  shelf: Shelf;
  /** Where the shelf's own 0,0 lies on the drawing plane; 0,0 from the front. */
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
  | (Common & { kind: 'lamp'; lamp: Lamp; lampKind: LampKind; corners: readonly Point[] })
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

/** What stands where, in one view. */
export interface Scene {
  view: ViewName;
  rack: Rack;
  /** Shelves first, then trays, boards and lamps: the order of painting. */
  things: readonly Thing[];
  byRef: ReadonlyMap<string, Thing>;
  pots: readonly PotOnPlane[];
  potByRef: ReadonlyMap<string, PotOnPlane>;
  potIndex: GridIndex<PotOnPlane>;
  /** Around everything; null for an empty rack. */
  bounds: Box | null;
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

function lampThing(at: Standing, lamp: Lamp, kind: LampKind, nth: number): Thing {
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
    : { left, right, bottom: face, top: face + LAMP_BODY_MM };
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
  };
}

function trayThing({ above, shelf, origin }: Standing, tray: Tray, potCount: number): Thing {
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
function boardThings({ above, shelf, origin }: Standing): Thing[] {
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

function shelfThing({ above, shelf, origin }: Standing): Thing {
  const bay: Box = {
    left: 0,
    right: shelf.widthMm,
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
      : { left: 0, right: shelf.widthMm, bottom: shelf.heightMm - BOARD_MM, top: shelf.heightMm },
    bay,
    name: `Shelf ${shelf.number}`,
  };
}

function placed({ above, shelf, origin }: Standing, pot: Pot): PotOnPlane {
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
        centre: { across: pot.xMm, up: shelf.heightMm + pot.heightMm / 2 },
        halfWidth: half,
        halfHeight: pot.heightMm / 2,
      };
}

/** A shelf in one view, with the place of its own 0,0 on the plane. */
interface Standing {
  above: boolean;
  shelf: Shelf;
  origin: Point;
}

function standings(rack: Rack, view: ViewName, shelfId: string | null): Standing[] {
  const above = fromAbove(view);
  const flat = (shelves: readonly Shelf[]) =>
    shelves.map((shelf) => ({ above, shelf, origin: { across: 0, up: 0 } }));
  if (view === 'front') return flat(rack.shelves);
  if (view === 'above') {
    const one = shelfId === null ? undefined : findShelf(rack, shelfId);
    return flat(one ? [one] : []);
  }
  const deepest = Math.max(0, ...rack.shelves.map((s) => s.depthMm));
  // Whole millimetres, so that whole steps on the plane are whole steps on the shelf.
  const gap = Math.ceil(Math.max(LEAST_GAP_MM, GAP_SHARE * deepest));
  let up = 0;
  return [...rack.shelves]
    .sort((a, b) => a.heightMm - b.heightMm)
    .map((shelf) => {
      const origin = { across: 0, up };
      up += Math.ceil(shelf.depthMm) + gap;
      return { above, shelf, origin };
    });
}

/**
 * Lays the rack out on the drawing plane: every shelf as seen from the front, one shelf from above
 * (none where the id is not in the rack), or all from above, the lowest at the lower end.
 */
export function sceneOf(rack: Rack, view: ViewName, shelfId: string | null): Scene {
  const standing = standings(rack, view, shelfId);
  const shelves = standing.map(shelfThing);
  const boards = standing.flatMap(boardThings);
  const trays: Thing[] = [];
  const lamps: Thing[] = [];
  const pots: PotOnPlane[] = [];
  for (const at of standing) {
    const { shelf } = at;
    for (const tray of shelf.trays) {
      const potsHere = potsOfTray(shelf, tray);
      trays.push(trayThing(at, tray, potsHere.length));
      const here = potsHere.map((pot) => placed(at, pot));
      // From the front the nearest row is painted last, over those behind it.
      if (view === 'front') here.reverse();
      pots.push(...here);
    }
    shelf.lamps.forEach((lamp, i) => {
      lamps.push(lampThing(at, lamp, kindOfLamp(rack, lamp), i + 1));
    });
  }
  const things = [...shelves, ...trays, ...boards, ...lamps];
  const reach = pots.reduce((most, p) => Math.max(most, p.halfWidth, p.halfHeight), 1);
  const outlines = things.flatMap((t) =>
    t.kind === 'shelf' && view === 'front' ? [t.box, t.bay] : [t.box],
  );
  return {
    view,
    rack,
    things,
    byRef: new Map(things.map((t) => [t.ref, t])),
    pots,
    potByRef: new Map(pots.map((p) => [p.ref, p])),
    potIndex: gridIndex(pots, (p) => p.centre, reach),
    bounds: boxAround(outlines),
  };
}

/** The outline of anything that the scene shows, pots too. */
export function outlineOf(scene: Scene, ref: string): Box | null {
  const thing = scene.byRef.get(ref);
  if (thing) return thing.box;
  const pot = scene.potByRef.get(ref);
  if (!pot) return null;
  return {
    left: pot.centre.across - pot.halfWidth,
    right: pot.centre.across + pot.halfWidth,
    bottom: pot.centre.up - pot.halfHeight,
    top: pot.centre.up + pot.halfHeight,
  };
}

/** A place on the plane in the shelf's own axes, as seen from above; unchanged from the front. */
export function onShelf(scene: Scene, shelfId: string, at: Point): Point {
  const origin = scene.byRef.get(refTo('shelf', shelfId))?.origin;
  return origin ? { across: at.across - origin.across, up: at.up - origin.up } : at;
}

/** The shelf whose board or bay lies at a point; from above, the shelf shown there. */
export function shelfAt(scene: Scene, at: Point): Shelf | null {
  for (const thing of scene.things) {
    if (thing.kind !== 'shelf') continue;
    const { box, bay } = thing;
    if (at.across < box.left || at.across > box.right) continue;
    const bottom = box.bottom;
    const top = scene.view === 'front' ? bay.top : box.top;
    if (at.up >= bottom && at.up <= top) return thing.shelf;
  }
  return null;
}
