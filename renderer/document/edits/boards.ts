import { bayCount, baysOf, boardsAlong, boardRect, holeCentre } from '../../engine/geometry';
import type { Board, BoardDirection, Shelf, ShelfBay, Tray } from '../../../shared-types/rack';
import { takeIdFrom } from '../ids';
import { holeOf } from '../potsInRack';

/** Narrower than this nothing grows: two boards are then meant to be one. */
const LEAST_BAY_MM = 20;
// Places are kept to a tenth of a millimetre; less is rounding.
const TOUCHING_MM = 0.05;

/** Where boards do not stand in a shelf with room between them; null where they do. */
export function boardFault(shelf: Shelf): { found: string; expected: string } | null {
  if (!shelf.boards) return null;
  for (const bay of baysOf(shelf)) {
    const least = Math.min(bay.rect.widthMm, bay.rect.depthMm);
    if (least >= LEAST_BAY_MM - TOUCHING_MM) continue;
    return {
      found: `a bay of ${Math.round(least * 10) / 10} mm between boards and sides`,
      expected: `at least ${LEAST_BAY_MM} mm`,
    };
  }
  for (const board of shelf.boards) {
    if (board.downToMm < shelf.clearanceMm) continue;
    return {
      found: `a board from ${board.downToMm} mm up`,
      expected: `a lower edge under the ${shelf.clearanceMm} mm of the shelf's clearance`,
    };
  }
  return null;
}

/** The board that a column or row of bays begins at; the shelf's own side where there is none. */
const startsAt = (boards: readonly Board[], direction: BoardDirection): (string | null)[] => [
  null,
  ...boardsAlong({ boards: [...boards] }, direction).map(({ id }) => id),
];

function* cellsOf(boards: readonly Board[]): Generator<string> {
  for (const front of startsAt(boards, 'lengthwise')) {
    for (const left of startsAt(boards, 'across')) yield `${front ?? ''}|${left ?? ''}`;
  }
}

/**
 * Gives a shelf of the caller's own draft other boards. A bay keeps its id and its hours as long as
 * it begins at the same boards; what a new board parts off is a new bay. Holes that a board comes to
 * stand over are emptied, and those that it leaves are filled again.
 */
export function setBoards(draft: { nextId: number }, shelf: Shelf, boards: readonly Board[]): void {
  const before = { ...shelf, boards: shelf.boards ?? [] };
  const kept = new Map<string, ShelfBay>();
  const bays = baysOf(shelf);
  let at = 0;
  for (const cell of cellsOf(before.boards)) {
    const bay = bays[at];
    if (bay) kept.set(cell, shelf.bays?.[at] ?? { id: bay.id });
    at += 1;
  }
  shelf.boards = [...boards];
  shelf.bays = [...cellsOf(boards)].map((cell) => kept.get(cell) ?? newBay(draft));
  tidy(shelf, bays[0].id);
  for (const tray of shelf.trays) moveHoles(shelf, tray, before.boards);
}

/** Boards and bays for a copy of a shelf, with ids of their own. */
export function copyOfBays(
  draft: { nextId: number },
  model: Shelf,
): Pick<Shelf, 'boards' | 'bays'> {
  return {
    ...(model.boards && {
      boards: model.boards.map((board) => ({ ...board, id: takeIdFrom(draft, 'board') })),
    }),
    ...(model.bays && {
      bays: model.bays.map((bay) => ({ ...bay, id: takeIdFrom(draft, 'bay') })),
    }),
  };
}

const newBay = (draft: { nextId: number }): ShelfBay => ({ id: takeIdFrom(draft, 'bay') });

/** A shelf without boards needs no list of bays, unless its bay has something of its own. */
function tidy(shelf: Shelf, firstId: string): void {
  if (bayCount(shelf.boards ?? []) > 1) return;
  delete shelf.boards;
  const [bay] = shelf.bays ?? [];
  const own = baysOf({ ...shelf, bays: undefined })[0].id;
  if (own === firstId && bay?.photoperiodHours === undefined) delete shelf.bays;
}

function moveHoles(shelf: Shelf, tray: Tray, before: readonly Board[]): void {
  const { grid } = tray;
  if (!grid) return;
  const was = cutHoles(shelf, tray, before);
  const is = cutHoles(shelf, tray, shelf.boards ?? []);
  const freed = new Set([...was].filter((hole) => !is.has(hole)));
  const empty = grid.empty.filter((hole) => !freed.has(hole));
  const taken = new Set(empty);
  const added = [...is].filter((hole) => !taken.has(hole));
  if (freed.size > 0 || added.length > 0) grid.empty = [...empty, ...added];
}

/** Holes whose pots a board would cut, as `row:column`. */
export function cutHoles(shelf: Shelf, tray: Tray, boards: readonly Board[]): Set<string> {
  const cut = new Set<string>();
  const { grid } = tray;
  if (!grid || boards.length === 0) return cut;
  const rects = boards.map((board) => boardRect(shelf, board));
  const reach = grid.potDiameterMm / 2 - TOUCHING_MM;
  for (let row = 1; row <= grid.rows; row++) {
    for (let column = 1; column <= grid.columns; column++) {
      const centre = holeCentre(grid, row, column);
      const x = tray.xMm + centre.xMm;
      const y = tray.yMm + centre.yMm;
      const hit = rects.some(({ xMm, yMm, widthMm, depthMm }) => {
        const dx = Math.max(xMm - x, 0, x - xMm - widthMm);
        const dy = Math.max(yMm - y, 0, y - yMm - depthMm);
        return Math.hypot(dx, dy) < reach;
      });
      if (hit) cut.add(holeOf(row, column));
    }
  }
  return cut;
}
