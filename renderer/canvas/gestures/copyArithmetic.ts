import { sameRack, shelfAtHeight } from '../../engine/geometry';
import type { Scene } from '../plane/scene';
import { moveStart, type MoveStart } from './moveArithmetic';

/**
 * Where copies may go. From the front they are free of their own shelf: they line up with their
 * like in every bay, with what they are copies of too.
 */
export function copyStart(scene: Scene, refs: readonly string[]): MoveStart | null {
  const from = moveStart(scene, refs);
  const [first] = refs.flatMap((ref) => scene.byRef.get(ref) ?? []);
  if (!from || !first || scene.view !== 'front' || first.kind === 'shelf') return from;
  return {
    ...from,
    siblings: scene.things.filter((t) => t.kind === first.kind).map((t) => t.box),
    container: null,
    leastUp: -Infinity,
    mostUp: Infinity,
  };
}

/**
 * How far up copies of trays go from the front: from board to board, in whole steps. Null where
 * they are not held to boards: lamps hang at any height, and seen from above up is to the back.
 */
export function boardsUp(scene: Scene, refs: readonly string[], byUp: number): number | null {
  const things = refs.flatMap((ref) => scene.byRef.get(ref) ?? []);
  const [first] = things;
  if (scene.view !== 'front' || first?.kind !== 'tray') return null;
  if (things.some((thing) => thing.kind !== 'tray')) return null;
  const middle = first.shelf.heightMm + first.tray.rimHeightMm / 2;
  const board = shelfAtHeight(sameRack(scene.rack.shelves, first.shelf), middle + byUp);
  return board ? board.heightMm - first.shelf.heightMm : 0;
}
