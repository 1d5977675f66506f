import type { Board, Shelf } from '../../../shared-types/rack';
import { letterOf } from './codes';

/** A bay with its place on the shelf: the clear floor between boards and the shelf's sides. */
export interface BayPlace {
  id: string;
  /** `3` for a whole shelf; `3 left`, `3 back right` or `3 bay B` where boards part it. */
  name: string;
  /** Of this many bays along the front and to the back, counted from 0. */
  column: number;
  row: number;
  /** From the shelf's front left corner. */
  leftMm: number;
  rightMm: number;
  frontMm: number;
  backMm: number;
}

/** The bay that a whole shelf is, and the first one where it is parted: of the shelf's own number. */
export const firstBayId = (shelf: Pick<Shelf, 'id'>): string => shelf.id.replace(/^[a-z]+/, 'b');

/** Boards of one direction, from the left or from the front. */
export function boardsAlong(shelf: Pick<Shelf, 'boards'>, direction: Board['direction']): Board[] {
  return (shelf.boards ?? [])
    .filter((board) => board.direction === direction)
    .sort((a, b) => a.atMm - b.atMm);
}

/** The bays of a shelf, left to right, then from the front to the back. */
export function baysOf(shelf: Shelf): BayPlace[] {
  const columns = spans(boardsAlong(shelf, 'across'), shelf.widthMm);
  const rows = spans(boardsAlong(shelf, 'lengthwise'), shelf.depthMm);
  const ids = shelf.bays?.map(({ id }) => id) ?? [firstBayId(shelf)];
  return rows.flatMap(([frontMm, backMm], row) =>
    columns.map(([leftMm, rightMm], column) => {
      const place = row * columns.length + column;
      const words = sayPlace(row, rows.length, column, columns.length);
      return {
        id: ids[place] ?? '',
        name: words === '' ? String(shelf.number) : `${shelf.number} ${words}`,
        column,
        row,
        leftMm,
        rightMm,
        frontMm,
        backMm,
      };
    }),
  );
}

/** The bay that a point of the shelf lies in; a point under a board belongs to the bay before it. */
export function bayAt(bays: readonly BayPlace[], xMm: number, yMm: number): BayPlace | undefined {
  const columns = bays.filter(({ row }) => row === 0);
  const rows = bays.filter(({ column }) => column === 0);
  const column = last(columns, ({ leftMm }) => leftMm <= xMm);
  const row = last(rows, ({ frontMm }) => frontMm <= yMm);
  return bays.find((bay) => bay.column === column && bay.row === row);
}

/** The number of the last span that begins before a point; 0 for a point before all. */
function last<Item>(items: readonly Item[], begins: (item: Item) => boolean): number {
  return Math.max(0, items.filter(begins).length - 1);
}

/** Clear spans between boards, from 0 to `endMm`. */
function spans(boards: readonly Board[], endMm: number): [number, number][] {
  const starts = [0, ...boards.map((board) => board.atMm + board.thicknessMm / 2)];
  const ends = [...boards.map((board) => board.atMm - board.thicknessMm / 2), endMm];
  return starts.map((start, i) => [start, ends[i] ?? endMm]);
}

const WORDS: Record<'columns' | 'rows', readonly (readonly string[])[]> = {
  columns: [[''], ['left', 'right'], ['left', 'centre', 'right']],
  rows: [[''], ['front', 'back'], ['front', 'middle', 'back']],
};

function sayPlace(row: number, rows: number, column: number, columns: number): string {
  const across = WORDS.columns[columns - 1]?.[column];
  const deep = WORDS.rows[rows - 1]?.[row];
  if (across === undefined || deep === undefined) {
    return `bay ${letterOf(row * columns + column + 1)}`;
  }
  return [deep, across].filter((word) => word !== '').join(' ');
}
