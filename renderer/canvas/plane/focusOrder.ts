import { upwardsByRack } from '../../engine/geometry';
import type { Point } from './box';
import { centreOf } from './box';
import { refTo } from '../../document/queries/refs';
import type { Scene } from './scene';

export type Direction = 'left' | 'right' | 'up' | 'down';

/** Order of Tab: rack by rack, shelf by shelf from the lowest, its trays from the left, then its boards and lamps. */
export function focusOrder(scene: Scene, lampsOnly: boolean): string[] {
  const things = new Map(scene.things.flatMap((t) => (t.kind === 'shelf' ? [[t.shelf, t]] : [])));
  const shelves = upwardsByRack([...things.keys()]).flatMap((shelf) => things.get(shelf) ?? []);
  return shelves.flatMap((shelf) => {
    const here = scene.things.filter((t) => t.shelf.id === shelf.shelf.id);
    const byPlace = (kind: 'tray' | 'board' | 'lamp') =>
      here
        .filter((t) => t.kind === kind)
        .sort((a, b) => a.box.bottom - b.box.bottom || a.box.left - b.box.left)
        .map((t) => t.ref);
    return lampsOnly
      ? byPlace('lamp')
      : [shelf.ref, ...byPlace('tray'), ...byPlace('board'), ...byPlace('lamp')];
  });
}

/** The ref after (or before) the current one; null past either end, so that Tab can leave. */
export function nextInOrder(
  order: readonly string[],
  current: string | null,
  by: 1 | -1,
): string | null {
  const at = current === null ? -1 : order.indexOf(current);
  if (at < 0) return (by === 1 ? order[0] : order.at(-1)) ?? null;
  return order[at + by] ?? null;
}

/**
 * The nearest in a direction: least distance along it plus twice the distance off it, among those
 * that lie more ahead than aside.
 */
export function nearestToward<T>(
  from: Point,
  things: readonly T[],
  centre: (thing: T) => Point,
  direction: Direction,
): T | null {
  let best: T | null = null;
  let least = Infinity;
  for (const thing of things) {
    const to = centre(thing);
    const dx = to.across - from.across;
    const dy = to.up - from.up;
    const ahead = { left: -dx, right: dx, up: dy, down: -dy }[direction];
    const aside = Math.abs(direction === 'left' || direction === 'right' ? dy : dx);
    if (ahead <= 0.5 || aside > ahead) continue;
    const cost = ahead + 2 * aside;
    if (cost < least) {
      best = thing;
      least = cost;
    }
  }
  return best;
}

/** Where an arrow key goes from a selected pot or thing. */
export function towards(scene: Scene, ref: string, direction: Direction): string | null {
  const pot = scene.potByRef.get(ref);
  if (pot) {
    const others = scene.pots.filter((p) => p.ref !== ref);
    return nearestToward(pot.centre, others, (p) => p.centre, direction)?.ref ?? null;
  }
  const thing = scene.byRef.get(ref);
  if (!thing) return null;
  const others = scene.things.filter((t) => t.ref !== ref && t.kind === thing.kind);
  return nearestToward(centreOf(thing.box), others, (t) => centreOf(t.box), direction)?.ref ?? null;
}

/** The first pot of a tray, by which the keyboard enters it. */
export function firstPotOf(scene: Scene, trayRef: string): string | null {
  const tray = scene.byRef.get(trayRef);
  if (tray?.kind !== 'tray') return null;
  const pots = scene.pots.filter((p) => p.pot.trayId === tray.tray.id);
  const first = pots.find((p) => p.pot.row === 1) ?? pots[0];
  return first?.ref ?? null;
}

/** The tray that a pot stands in. */
export function trayOfPot(scene: Scene, potRef: string): string | null {
  const pot = scene.potByRef.get(potRef);
  return pot ? refTo('tray', pot.pot.trayId) : null;
}
