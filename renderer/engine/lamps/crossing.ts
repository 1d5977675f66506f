import type { Board, Lamp, LampKind, Shelf } from '../../../shared-types/rack';
import { boardRect, rectsOverlap } from '../geometry';
import { lampBounds } from './size';

/** A lamp that a board stands in the way of. */
export interface LampCrossing {
  lamp: Lamp;
  kind: LampKind;
  board: Board;
}

/** The lamps over a shelf that cannot hang there for its boards. */
export function crossingsOf(shelf: Shelf, lampKinds: readonly LampKind[]): LampCrossing[] {
  const boards = shelf.boards ?? [];
  if (boards.length === 0) return [];
  return shelf.lamps.flatMap((lamp) => {
    const kind = lampKinds.find(({ id }) => id === lamp.kindId);
    if (!kind) return [];
    const bounds = lampBounds(lamp, kind);
    const board = boards.find(
      (one) => lamp.zMm > one.downToMm && rectsOverlap(bounds, boardRect(shelf, one)),
    );
    return board ? [{ lamp, kind, board }] : [];
  });
}
