import type { Box, Point } from './box';
import { boxInside, boxesMeet, contains, grown } from './box';
import type { Scene } from './scene';
import type { BoardThing, LampThing, PotOnPlane, Thing, TrayThing } from './things';
import { outlineOf, shelfAt } from './scene';
import { fromAbove } from './things';
import { holeCentre, potId } from '../../engine/geometry';
import { refTo } from '../../document/queries/refs';

/** What lies under the pointer, from the thing nearest to the eye to the farthest. */
export interface Hit {
  lamp: LampThing | null;
  board: BoardThing | null;
  pot: PotOnPlane | null;
  tray: Extract<Thing, { kind: 'tray' }> | null;
  shelf: Extract<Thing, { kind: 'shelf' }> | null;
}

function insideTurned(lamp: LampThing, at: Point, slackMm: number): boolean {
  const { corners } = lamp;
  const a = corners[0];
  const b = corners[1];
  const d = corners[3];
  if (!a || !b || !d) return false;
  const within = (to: Point) => {
    const dx = to.across - a.across;
    const dy = to.up - a.up;
    const length = Math.hypot(dx, dy);
    const along = ((at.across - a.across) * dx + (at.up - a.up) * dy) / length;
    return along >= -slackMm && along <= length + slackMm;
  };
  return within(b) && within(d);
}

/** The pot at a point: inside its circle from above, its rectangle from the front; the nearest row wins. */
export function potAt(scene: Scene, at: Point): PotOnPlane | null {
  let best: PotOnPlane | null = null;
  let least = Infinity;
  for (const p of scene.potIndex.near(at)) {
    const dx = at.across - p.centre.across;
    const dy = at.up - p.centre.up;
    if (fromAbove(scene.view)) {
      const distance = Math.hypot(dx, dy);
      if (distance <= p.halfWidth && distance < least) {
        best = p;
        least = distance;
      }
    } else if (Math.abs(dx) <= p.halfWidth && Math.abs(dy) <= p.halfHeight) {
      if (p.pot.row < least) {
        best = p;
        least = p.pot.row;
      }
    }
  }
  return best;
}

/** Lamps, boards and trays under a point, each kind from the nearest to the eye to the farthest. */
function piledAt(scene: Scene, at: Point, slackMm: number) {
  const lamps: LampThing[] = [];
  const boards: BoardThing[] = [];
  const trays: TrayThing[] = [];
  for (const thing of scene.things) {
    if (thing.kind === 'lamp' && insideTurned(thing, at, slackMm)) lamps.unshift(thing);
    if (thing.kind === 'board' && contains(grown(thing.box, slackMm), at)) boards.unshift(thing);
    if (thing.kind === 'tray' && contains(thing.box, at)) trays.unshift(thing);
  }
  return { lamps, boards, trays };
}

/** Everything under a point. `slackMm` widens lamps and boards, which are thin. */
export function hitAt(scene: Scene, at: Point, slackMm: number): Hit {
  const piled = piledAt(scene, at, slackMm);
  const [lamp = null] = piled.lamps;
  const [board = null] = piled.boards;
  let [tray = null] = piled.trays;
  const pot = potAt(scene, at);
  if (!tray && pot) {
    const owner = scene.byRef.get(refTo('tray', pot.pot.trayId));
    if (owner?.kind === 'tray') tray = owner;
  }
  const under = shelfAt(scene, at);
  const shelf = under && scene.byRef.get(refTo('shelf', under.id));
  return { lamp, board, pot, tray, shelf: shelf?.kind === 'shelf' ? shelf : null };
}

/** What may be taken hold of on a stage. */
export interface StackRules {
  /** Things that may be moved: all, lamps only, or none. */
  editable: boolean | 'lamps';
  /** How near a lamp counts as on it, mm. */
  slackMm: number;
  /** A point mark under the pointer, which wins over everything. */
  point: string | null;
}

/**
 * References of all that lies under a point and may be selected there, in the order in which clicks
 * go through it: what can be moved first, from the nearest to the eye to the farthest.
 */
export function stackAt(scene: Scene, at: Point, rules: StackRules): string[] {
  const { editable, slackMm, point } = rules;
  const { lamps, boards, trays } = piledAt(scene, at, slackMm);
  const { pot, tray, shelf } = hitAt(scene, at, slackMm);
  // A pot stands out over the side of its tray.
  const standing = tray && !trays.includes(tray) ? [tray] : trays;
  const things =
    editable === true
      ? [...lamps, ...boards, ...standing, fromAbove(scene.view) ? pot : null, shelf]
      : [...(editable === 'lamps' ? lamps : []), pot, ...standing, shelf];
  return [point, ...things.map((thing) => thing?.ref ?? null)].filter((ref) => ref !== null);
}

/** Hole of a tray's grid at a point (view from above), whether a pot stands in it or not. */
export function holeAt(scene: Scene, at: Point): string | null {
  for (const thing of scene.things) {
    if (thing.kind !== 'tray' || !contains(grown(thing.box, 20), at)) continue;
    const { tray } = thing;
    if (!tray.grid) continue;
    const x = at.across - thing.box.left;
    const y = at.up - thing.box.bottom;
    const row = Math.round((y - tray.grid.firstYMm) / tray.grid.pitchYMm) + 1;
    for (const r of [row, row - 1, row + 1]) {
      if (r < 1 || r > tray.grid.rows) continue;
      const start = holeCentre(tray.grid, r, 1);
      const column = Math.round((x - start.xMm) / tray.grid.pitchXMm) + 1;
      if (column < 1 || column > tray.grid.columns) continue;
      const hole = holeCentre(tray.grid, r, column);
      if (Math.hypot(hole.xMm - x, hole.yMm - y) <= tray.grid.potDiameterMm / 2) {
        return potId(tray.id, r, column);
      }
    }
  }
  return null;
}

/**
 * What a dragged frame takes in: trays and lamps (or pots) that lie wholly in it, or that it touches
 * when `touching`. Shelves only from the front and only whole.
 */
export function refsInFrame(
  scene: Scene,
  frame: Box,
  wanted: 'things' | 'lamps' | 'pots',
  touching: boolean,
): string[] {
  const takes = (box: Box) => (touching ? boxesMeet(frame, box) : boxInside(box, frame));
  if (wanted === 'pots') {
    return scene.pots
      .filter((p) => {
        const box = outlineOf(scene, p.ref);
        return box !== null && takes(box);
      })
      .map((p) => p.ref);
  }
  return scene.things
    .filter((t) => {
      if (t.kind === 'shelf') {
        return wanted === 'things' && scene.view === 'front' && boxInside(t.box, frame);
      }
      return (wanted === 'things' || t.kind === 'lamp') && takes(t.box);
    })
    .map((t) => t.ref);
}
