import { boardRect, rectInside, rectsOverlap, type Rect } from '../../engine/geometry';
import { kindOfLamp, litSize } from '../../engine/lamps';
import { turnedBounds } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Board, Lamp, LampKind, Shelf, Tray } from '../../../shared-types/rack';
import { lookUp } from './selection';
import { refTo } from './refs';

/** A strip is a line to the light; two of them still cannot hang in one place. */
const LEAST_BODY_MM = 24;

export type OnShelf = { ref: string; shelf: Shelf; rect: Rect } & (
  | { kind: 'tray'; tray: Tray }
  | { kind: 'lamp'; lamp: Lamp }
  | { kind: 'board'; board: Board }
);

function lampRect(lamp: Lamp, kind: LampKind): Rect {
  const { lengthMm, widthMm } = litSize(kind);
  const [long, wide] = [Math.max(lengthMm, LEAST_BODY_MM), Math.max(widthMm, LEAST_BODY_MM)];
  return turnedBounds(lamp, long, wide, lamp.rotationDeg);
}

type Lamps = Pick<Plan['rack'], 'lampKinds'>;

const placedTray = (shelf: Shelf, tray: Tray): OnShelf => ({
  kind: 'tray',
  ref: refTo('tray', tray.id),
  shelf,
  tray,
  rect: { xMm: tray.xMm, yMm: tray.yMm, widthMm: tray.widthMm, depthMm: tray.depthMm },
});
const placedLamp = (rack: Lamps, shelf: Shelf, lamp: Lamp): OnShelf => ({
  kind: 'lamp',
  ref: refTo('lamp', lamp.id),
  shelf,
  lamp,
  rect: lampRect(lamp, kindOfLamp(rack, lamp)),
});
const placedBoard = (shelf: Shelf, board: Board): OnShelf => ({
  kind: 'board',
  ref: refTo('board', board.id),
  shelf,
  board,
  rect: boardRect(shelf, board),
});

/** Trays, lamps and boards among some references, each with what it takes up of its shelf. */
export function placedOf(plan: Plan, refs: readonly string[]): OnShelf[] {
  const { trays, lamps, boards } = lookUp(plan, refs);
  return [
    ...trays.map(({ shelf, tray }) => placedTray(shelf, tray)),
    ...lamps.map(({ shelf, lamp }) => placedLamp(plan.rack, shelf, lamp)),
    ...boards.map(({ shelf, board }) => placedBoard(shelf, board)),
  ];
}

/** All of one kind on a shelf. */
export function placedOn(rack: Lamps, shelf: Shelf, kind: OnShelf['kind']): OnShelf[] {
  switch (kind) {
    case 'tray':
      return shelf.trays.map((tray) => placedTray(shelf, tray));
    case 'lamp':
      return shelf.lamps.map((lamp) => placedLamp(rack, shelf, lamp));
    case 'board':
      return (shelf.boards ?? []).map((board) => placedBoard(shelf, board));
  }
}

/**
 * What stands or hangs where a thing of another shelf, or of this, would come to; `beyond` where it
 * would stand out over the shelf more than it does now; null where it has room.
 */
export function inTheWay(
  rack: Lamps,
  { kind, rect, shelf: from }: OnShelf,
  to: Shelf,
  at: Rect = rect,
): OnShelf | 'beyond' | null {
  const whole = { xMm: 0, yMm: 0, widthMm: to.widthMm, depthMm: to.depthMm };
  const own = { ...whole, widthMm: from.widthMm, depthMm: from.depthMm };
  const inside =
    kind === 'lamp' ? rectInside(middleOf(at), whole) : rectInside(at, whole) || !fits(rect, own);
  if (!inside) return 'beyond';
  return placedOn(rack, to, kind).find((other) => rectsOverlap(other.rect, at)) ?? null;
}

const fits = (rect: Rect, shelf: Rect) => rectInside(rect, shelf);

const middleOf = ({ xMm, yMm, widthMm, depthMm }: Rect): Rect => ({
  xMm: xMm + widthMm / 2,
  yMm: yMm + depthMm / 2,
  widthMm: 0,
  depthMm: 0,
});

/** Ids of the other shelves on which all of these things have room where they stand here. */
export function shelvesWithRoom(plan: Plan, refs: readonly string[]): string[] {
  const placed = placedOf(plan, refs);
  const [first] = placed;
  if (!first || placed.some(({ shelf }) => shelf.id !== first.shelf.id)) return [];
  return plan.rack.shelves.flatMap((to) =>
    to.id !== first.shelf.id && placed.every((one) => inTheWay(plan.rack, one, to) === null)
      ? [to.id]
      : [],
  );
}
