import { findShelf, kindOfLamp, potsOfTray, trayCode, turnedBounds } from '../../engine/geometry';
import type { Pot } from '../../engine/geometry';
import type { Lamp, LampKind, Rack, Shelf, Tray } from '../../../shared-types/rack';
import type { Box, Point } from './box';
import { boxAround } from './box';
import { gridIndex } from './gridIndex';
import type { GridIndex } from './gridIndex';
import { refTo } from '../../document/queries/refs';

export type ViewName = 'front' | 'above';

/** Drawn thickness of a shelf board and of a lamp's body: for the eye only, nothing is computed from it. */
export const BOARD_MM = 24;
export const LAMP_BODY_MM = 26;
/** A lamp thinner than this is drawn this wide, so that it can be seen and grasped. */
export const LEAST_LAMP_MM = 24;

interface Common {
  ref: string;
  shelf: Shelf;
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
  | (Common & { kind: 'lamp'; lamp: Lamp; lampKind: LampKind; corners: readonly Point[] });

export type TrayThing = Extract<Thing, { kind: 'tray' }>;
export type LampThing = Extract<Thing, { kind: 'lamp' }>;
export type ShelfThing = Extract<Thing, { kind: 'shelf' }>;

/** A pot where it stands on the plane: a circle from above, an upright rectangle from the front. */
export interface PlacedPot {
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
  /** Shelves first, then trays, then lamps: the order of painting. */
  things: readonly Thing[];
  byRef: ReadonlyMap<string, Thing>;
  pots: readonly PlacedPot[];
  potByRef: ReadonlyMap<string, PlacedPot>;
  potIndex: GridIndex<PlacedPot>;
  /** Around everything; null for an empty rack. */
  bounds: Box | null;
}

function lampCorners(lamp: Lamp, kind: LampKind): Point[] {
  const along = Math.max(kind.shape === 'spot' ? 0 : kind.lengthMm, LEAST_LAMP_MM) / 2;
  const across = Math.max(kind.shape === 'panel' ? kind.widthMm : 0, LEAST_LAMP_MM) / 2;
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
  ).map(([x, y]) => ({ across: lamp.xMm + x * c - y * s, up: lamp.yMm + x * s + y * c }));
}

function lampThing(view: ViewName, shelf: Shelf, lamp: Lamp, kind: LampKind, nth: number): Thing {
  const turned = turnedBounds(
    lamp,
    Math.max(kind.shape === 'spot' ? 0 : kind.lengthMm, LEAST_LAMP_MM),
    Math.max(kind.shape === 'panel' ? kind.widthMm : 0, LEAST_LAMP_MM),
    lamp.rotationDeg,
  );
  const left = turned.xMm;
  const right = turned.xMm + turned.widthMm;
  const face = shelf.heightMm + lamp.zMm;
  const box: Box =
    view === 'above'
      ? { left, right, bottom: turned.yMm, top: turned.yMm + turned.depthMm }
      : { left, right, bottom: face, top: face + LAMP_BODY_MM };
  const corners =
    view === 'above'
      ? lampCorners(lamp, kind)
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
    box,
    name: `Lamp ${nth} over shelf ${shelf.number}`,
    lamp,
    lampKind: kind,
    corners,
  };
}

function trayThing(view: ViewName, shelf: Shelf, tray: Tray, potCount: number): Thing {
  const across = { left: tray.xMm, right: tray.xMm + tray.widthMm };
  return {
    kind: 'tray',
    ref: refTo('tray', tray.id),
    shelf,
    box:
      view === 'above'
        ? { ...across, bottom: tray.yMm, top: tray.yMm + tray.depthMm }
        : { ...across, bottom: shelf.heightMm, top: shelf.heightMm + tray.rimHeightMm },
    name: `Tray ${trayCode(shelf.number, tray.letter)}`,
    tray,
    potCount,
  };
}

function shelfThing(view: ViewName, shelf: Shelf): Thing {
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
    box:
      view === 'above'
        ? { left: 0, right: shelf.widthMm, bottom: 0, top: shelf.depthMm }
        : { left: 0, right: shelf.widthMm, bottom: shelf.heightMm - BOARD_MM, top: shelf.heightMm },
    bay,
    name: `Shelf ${shelf.number}`,
  };
}

function placed(view: ViewName, shelf: Shelf, pot: Pot): PlacedPot {
  const half = pot.diameterMm / 2;
  return view === 'above'
    ? {
        ref: refTo('pot', pot.id),
        pot,
        centre: { across: pot.xMm, up: pot.yMm },
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

/**
 * Lays the rack out on the drawing plane: every shelf as seen from the front, or one shelf from
 * above (none where the id is not in the rack).
 */
export function sceneOf(rack: Rack, view: ViewName, shelfId: string | null): Scene {
  const one = shelfId === null ? undefined : findShelf(rack, shelfId);
  const shelves = view === 'front' ? rack.shelves : one ? [one] : [];
  const boards = shelves.map((shelf) => shelfThing(view, shelf));
  const trays: Thing[] = [];
  const lamps: Thing[] = [];
  const pots: PlacedPot[] = [];
  for (const shelf of shelves) {
    for (const tray of shelf.trays) {
      const standing = potsOfTray(shelf, tray);
      trays.push(trayThing(view, shelf, tray, standing.length));
      const here = standing.map((pot) => placed(view, shelf, pot));
      // From the front the nearest row is painted last, over those behind it.
      if (view === 'front') here.reverse();
      pots.push(...here);
    }
    shelf.lamps.forEach((lamp, i) => {
      lamps.push(lampThing(view, shelf, lamp, kindOfLamp(rack, lamp), i + 1));
    });
  }
  const things = [...boards, ...trays, ...lamps];
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

/** The shelf whose board or bay lies at a point; from above, the shelf shown. */
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
