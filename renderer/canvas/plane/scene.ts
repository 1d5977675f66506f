import { findShelf, potsOfTray, racksInRoom, upwardsByRack } from '../../engine/geometry';
import { kindOfLamp, photonFlux } from '../../engine/lamps';
import { unlessRefused } from '../../words';
import type { LampKind, Rack, Shelf } from '../../../shared-types/rack';
import type { Box, Point } from './box';
import { boxAround } from './box';
import { gridIndex } from './gridIndex';
import type { GridIndex } from './gridIndex';
import { refTo } from '../../document/queries/refs';
import {
  type ViewName,
  fromAbove,
  type Thing,
  type PotOnPlane,
  lampThing,
  trayThing,
  boardThings,
  shelfThing,
  placed,
  type Standing,
} from './things';

/** Between two shelves that are shown from above together: for their names, and to tell them apart. */
const LEAST_GAP_MM = 60;
const GAP_SHARE = 0.14;
/** Between two racks from the front: for posts, names and clear heights. */
export const BETWEEN_RACKS_MM = 700;

/** With more shelves than this each rack has a column of its own, seen from above. */
const MOST_IN_COLUMN = 40;

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

function standings(rack: Rack, view: ViewName, shelfId: string | null): Standing[] {
  const above = fromAbove(view);
  const flat = (shelves: readonly Shelf[], across = 0) =>
    shelves.map((shelf) => ({ above, shelf, origin: { across, up: 0 } }));
  if (view === 'front') {
    let across = 0;
    return racksInRoom(rack.shelves).flatMap((shelves) => {
      const at = across;
      across += Math.ceil(Math.max(...shelves.map((s) => s.widthMm))) + BETWEEN_RACKS_MM;
      return flat(shelves, at);
    });
  }
  if (view === 'above') {
    const one = shelfId === null ? undefined : findShelf(rack, shelfId);
    return flat(one ? [one] : []);
  }
  const deepest = Math.max(0, ...rack.shelves.map((s) => s.depthMm));
  // Whole millimetres, so that whole steps on the plane are whole steps on the shelf.
  const gap = Math.ceil(Math.max(LEAST_GAP_MM, GAP_SHARE * deepest));
  let up = 0;
  const stacked = (shelves: readonly Shelf[], across: number) =>
    shelves.map((shelf) => {
      const origin = { across, up };
      up += Math.ceil(shelf.depthMm) + gap;
      return { above, shelf, origin };
    });
  if (rack.shelves.length <= MOST_IN_COLUMN) return stacked(upwardsByRack(rack.shelves), 0);
  let across = 0;
  return racksInRoom(rack.shelves).flatMap((shelves) => {
    up = 0;
    const column = stacked(upwardsByRack(shelves), across);
    across += Math.ceil(Math.max(...shelves.map((s) => s.widthMm))) + BETWEEN_RACKS_MM;
    return column;
  });
}

/** Of a kind whose output makes no sense nothing is known: its notice says so. */
const fluxOf = (kind: LampKind) => unlessRefused(() => photonFlux(kind).umolS) ?? 0;

/**
 * Lays the racks out on the drawing plane: every shelf as seen from the front of its rack, one shelf from above
 * (none where the id is not in the rack), or all from above, the lowest at the lower end,
 * many of them rack by rack.
 */
export function sceneOf(rack: Rack, view: ViewName, shelfId: string | null): Scene {
  const standing = standings(rack, view, shelfId);
  const shelves = standing.map(shelfThing);
  const boards = standing.flatMap(boardThings);
  const trays: Thing[] = [];
  const lamps: Thing[] = [];
  const strongest = Math.max(0, ...rack.lampKinds.map(fluxOf));
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
      const kind = kindOfLamp(rack, lamp);
      const glow = strongest > 0 ? (fluxOf(kind) * lamp.dimming) / strongest : 0;
      lamps.push(lampThing(at, lamp, kind, i + 1, glow));
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

/** `tray 2B`, `pot 2B-C7`: what a thing of the scene is called in a sentence. */
export function nameIn(scene: Scene): (ref: string) => string {
  return (ref) => {
    const name = scene.byRef.get(ref)?.name;
    if (name !== undefined) return name.charAt(0).toLowerCase() + name.slice(1);
    const code = scene.potByRef.get(ref)?.pot.code;
    return code === undefined ? 'the mark' : `pot ${code}`;
  };
}

/** A place on the plane in the shelf's own axes; from the front its height stays that above the floor. */
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
