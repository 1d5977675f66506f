import type { Board, BoardDirection, Shelf } from '../../../shared-types/rack';
import { Refusal } from '../../words';
import type { Rect } from './rect';

/** The part of a shelf that shares its lamps: the whole shelf, or what lies between its boards. */
export interface Bay {
  id: string;
  /** `2`, or where boards part the shelf `2 left`. */
  name: string;
  /** From board to board, in the shelf's axes. */
  rect: Rect;
  /** Hours a day that its lamps burn; null: as the light plan says for all. */
  photoperiodHours: number | null;
}

/** What a shelf's bays follow from. */
export type BayShelf = Pick<Shelf, 'id' | 'number' | 'widthMm' | 'depthMm'> & {
  boards?: Shelf['boards'] | undefined;
  bays?: Shelf['bays'] | undefined;
};

interface Span {
  fromMm: number;
  toMm: number;
}

/** Whether boards part a shelf, so that its bays are something else than the shelf. */
export const isParted = ({ boards = [] }: Pick<BayShelf, 'boards'>): boolean => boards.length > 0;

/** Boards of one direction in the order in which they stand. */
export function boardsAlong(shelf: Pick<BayShelf, 'boards'>, direction: BoardDirection): Board[] {
  return (shelf.boards ?? [])
    .filter((board) => board.direction === direction)
    .sort((a, b) => a.atMm - b.atMm);
}

/** The space that a board takes of its shelf, as seen from above. */
export function boardRect(shelf: Pick<Shelf, 'widthMm' | 'depthMm'>, board: Board): Rect {
  const fromMm = board.atMm - board.thicknessMm / 2;
  return board.direction === 'across'
    ? { xMm: fromMm, yMm: 0, widthMm: board.thicknessMm, depthMm: shelf.depthMm }
    : { xMm: 0, yMm: fromMm, widthMm: shelf.widthMm, depthMm: board.thicknessMm };
}

/** What the boards of one direction leave of a side, each piece from face to face. */
function spansBetween(sideMm: number, boards: readonly Board[]): Span[] {
  const spans: Span[] = [];
  let fromMm = 0;
  for (const { atMm, thicknessMm } of boards) {
    spans.push({ fromMm, toMm: Math.max(fromMm, atMm - thicknessMm / 2) });
    fromMm = Math.min(sideMm, atMm + thicknessMm / 2);
  }
  spans.push({ fromMm, toMm: Math.max(fromMm, sideMm) });
  return spans;
}

/** How many bays the boards make of a shelf. */
export const bayCount = (boards: readonly Pick<Board, 'direction'>[]): number => {
  const across = boards.filter(({ direction }) => direction === 'across').length;
  return (across + 1) * (boards.length - across + 1);
};

/** The id of a shelf's only bay where the plan names none: of the shelf's own number. */
const ownBayId = (shelfId: string) => shelfId.replace(/^[a-z]+/, 'b');

/** The bays of a shelf, row by row from the front, from the left in each. */
export function baysOf(shelf: BayShelf): [Bay, ...Bay[]] {
  const columns = spansBetween(shelf.widthMm, boardsAlong(shelf, 'across'));
  const rows = spansBetween(shelf.depthMm, boardsAlong(shelf, 'lengthwise'));
  const named = shelf.bays ?? [{ id: ownBayId(shelf.id) }];
  const bays = rows.flatMap((row, r) =>
    columns.map((column, c): Bay => {
      const bay = named[r * columns.length + c];
      if (!bay) {
        throw new Refusal(
          `shelf ${shelf.number}: ${named.length} bays are named; ` +
            `${rows.length * columns.length} lie between its boards`,
        );
      }
      return {
        id: bay.id,
        name: nameOf(shelf.number, { at: r, of: rows.length }, { at: c, of: columns.length }),
        rect: {
          xMm: column.fromMm,
          yMm: row.fromMm,
          widthMm: column.toMm - column.fromMm,
          depthMm: row.toMm - row.fromMm,
        },
        photoperiodHours: bay.photoperiodHours ?? null,
      };
    }),
  );
  const [first, ...others] = bays;
  if (!first) throw new Refusal(`shelf ${shelf.number}: a shelf is at least one bay`);
  return [first, ...others];
}

interface Place {
  at: number;
  of: number;
}

/** `front`, `middle`, `back`; from four on by number. */
function placeWord({ at, of }: Place, [first, last]: readonly [string, string]): string | null {
  if (of === 1) return null;
  if (of > 3) return `${first} ${at + 1}`;
  return at === 0 ? first : at === of - 1 ? last : 'middle';
}

function nameOf(number: number, row: Place, column: Place): string {
  const across = placeWord(column, ['left', 'right']);
  const deep = placeWord(row, ['front', 'back']);
  return [String(number), deep, across].filter((word) => word !== null).join(' ');
}

/** The bay that a point over the shelf belongs to: within a board, the one whose face is nearer. */
export function bayAt(bays: readonly [Bay, ...Bay[]], xMm: number, yMm: number): Bay {
  const [only, ...others] = bays;
  let [best, least] = [only, outsideMm(only.rect, xMm, yMm)];
  for (const bay of others) {
    const outside = outsideMm(bay.rect, xMm, yMm);
    if (outside < least) [best, least] = [bay, outside];
  }
  return best;
}

function outsideMm({ xMm, yMm, widthMm, depthMm }: Rect, x: number, y: number): number {
  const dx = Math.max(xMm - x, 0, x - xMm - widthMm);
  const dy = Math.max(yMm - y, 0, y - yMm - depthMm);
  return Math.hypot(dx, dy);
}
