import type { Box, Point } from '../plane/box';
import { boxAround, shifted } from '../plane/box';
import { parseRef, refTo } from '../../document/queries/refs';
import type { Scene } from '../plane/scene';
import type { Thing } from '../plane/things';
import type { Axis } from '../plane/axis';
import type { Guide } from '../plane/guides';
import { clearMeasures } from '../plane/guides';
import { snapMove, wholeStep } from '../plane/snap';
import type { UnitSystem } from '../../words';

/** What a move starts from: the box around the moved things and what they may line up with. */
export interface MoveStart {
  box: Box;
  siblings: readonly Box[];
  container: Box | null;
  axes: readonly Axis[];
  /**
   * How far it may go down and up: from the front things stay on their shelf and shelves above the
   * floor; among all shelves from above nothing slides over into another shelf.
   */
  leastUp: number;
  mostUp: number;
}

export interface PointerKeys {
  shift: boolean;
  ctrl: boolean;
  alt: boolean;
}

/**
 * Gathers the start of a move. Only things of the first thing's kind count as siblings, so that a
 * lamp does not catch on trays. Null where none of the refs can be moved in this view.
 */
export function moveStart(scene: Scene, refs: readonly string[]): MoveStart | null {
  const moved = refs.flatMap((ref) => scene.byRef.get(ref) ?? []);
  const first = moved[0];
  const box = boxAround(moved.map((t) => t.box));
  if (!first || !box) return null;
  const front = scene.view === 'front';
  if (first.kind === 'shelf' && !front) return null;
  const shelf = scene.byRef.get(refTo('shelf', first.shelf.id));
  const container =
    first.kind === 'shelf' || shelf?.kind !== 'shelf' ? null : front ? shelf.bay : shelf.box;
  const trayOnly = moved.some((t) => t.kind === 'tray');
  const boards = moved.flatMap((t) => (t.kind === 'board' ? [t.board] : []));
  const only = boards.length === moved.length ? boards[0] : undefined;
  const axes: Axis[] = only
    ? [only.direction === 'across' ? 'across' : 'up']
    : first.kind === 'shelf'
      ? ['up']
      : front && trayOnly
        ? ['across']
        : ['across', 'up'];
  const held = new Set(refs);
  const [leastUp, mostUp] = reachUp(scene, moved, box);
  return {
    box,
    siblings: scene.things
      .filter((t) => t.kind === first.kind && !held.has(t.ref) && besides(scene, first, t))
      .map((t) => t.box),
    container,
    axes,
    leastUp,
    mostUp,
  };
}

/** Shelves that are shown from above together only lie side by side in the picture. */
function besides(scene: Scene, first: Thing, other: Thing): boolean {
  return scene.view !== 'all' || other.shelf.id === first.shelf.id;
}

function reachUp(scene: Scene, moved: readonly Thing[], box: Box): [number, number] {
  const [first] = moved;
  if (scene.view === 'above' || !first) return [-Infinity, Infinity];
  if (scene.view === 'front') {
    return [
      first.kind === 'shelf' ? -first.shelf.heightMm : first.shelf.heightMm - box.bottom,
      Infinity,
    ];
  }
  // What stands out over its shelf already may stay where it is.
  const rooms = moved.flatMap((thing) => {
    const board = scene.byRef.get(refTo('shelf', thing.shelf.id));
    if (!board) return [];
    return [
      {
        least: Math.min(0, board.box.bottom - thing.box.bottom),
        most: Math.max(0, board.box.top - thing.box.top),
      },
    ];
  });
  return [Math.max(...rooms.map((r) => r.least)), Math.min(...rooms.map((r) => r.most))];
}

/** How far the things have moved, in whole steps or snapped, with what to draw meanwhile. */
export function moveBy(
  start: MoveStart,
  from: Point,
  to: Point,
  keys: PointerKeys,
  toleranceMm: number,
  lengths: UnitSystem,
): { byAcross: number; byUp: number; guides: Guide[] } {
  let byAcross = start.axes.includes('across') ? to.across - from.across : 0;
  let byUp = start.axes.includes('up') ? to.up - from.up : 0;
  let axes = start.axes;
  if (keys.shift && start.axes.length === 2) {
    const level = Math.abs(byAcross) >= Math.abs(byUp);
    if (level) byUp = 0;
    else byAcross = 0;
    axes = [level ? 'across' : 'up'];
  }
  const held = (by: number) => Math.min(start.mostUp, Math.max(start.leastUp, by));
  byUp = held(byUp);
  const snapped = keys.ctrl
    ? { byAcross: 0, byUp: 0, guides: [] }
    : snapMove({
        moving: shifted(start.box, byAcross, byUp),
        siblings: start.siblings,
        container: start.container,
        toleranceMm,
        axes,
      });
  const settle = (by: number, snap: number, had: boolean) =>
    snap !== 0 || had ? by + snap : wholeStep(by, lengths);
  const lined = (axis: Axis) =>
    snapped.guides.some((g) => (g.kind === 'line' ? g.axis !== axis : g.axis === axis));
  byAcross = settle(byAcross, snapped.byAcross, lined('across'));
  byUp = held(settle(byUp, snapped.byUp, lined('up')));
  const now = shifted(start.box, byAcross, byUp);
  return {
    byAcross,
    byUp,
    guides: [
      ...snapped.guides,
      ...clearMeasures(now, start.siblings, start.container, axes).filter(
        (m) => !snapped.guides.some((g) => g.kind === 'gap' && g.from === m.from && g.to === m.to),
      ),
    ],
  };
}

/** Things that a drag or an arrow key moves: a tray goes with its shelf, a pot with its tray. */
export function movableRefs(
  scene: Scene,
  selection: readonly string[],
  lampsOnly: boolean,
): string[] {
  const kinds = selection.flatMap((ref) => parseRef(ref)?.kind ?? []);
  const shelves = kinds.includes('shelf');
  return selection.filter((ref) => {
    const thing = scene.byRef.get(ref);
    if (!thing) return false;
    if (lampsOnly) return thing.kind === 'lamp';
    // With shelves selected only they move: what stands on them goes along anyway.
    return shelves ? thing.kind === 'shelf' && scene.view === 'front' : thing.kind !== 'shelf';
  });
}
