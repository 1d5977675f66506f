/** A tray's rows as they come in a list: the first row of each stretch that is not broken. */
export interface Flowing {
  rows: number;
  /** Where a list may be broken: places in the rows, each the first of a row of the tray. */
  breaks: readonly number[];
  /** Height of what stands over its list, mm, and over a list that goes on. */
  headMm: number;
  againMm: number;
}

/** A stretch of a tray's list, on a page. */
export interface ListPlacing {
  tray: number;
  from: number;
  to: number;
  column: number;
  /** From the top of the column. */
  topMm: number;
}

/** Less than this share of a column is not begun with a tray that has to be broken for it. */
const WORTH_BREAKING = 0.25;
export const BETWEEN_MM = 4;

/**
 * Lays the lists of trays one under the other, column by column, so that pages are full. A tray that
 * does not fit in what is left of a column is broken between its rows, or begun in the next column.
 */
export function flowed(
  trays: readonly Flowing[],
  { columns, columnMm, rowMm }: { columns: number; columnMm: number; rowMm: number },
): ListPlacing[][] {
  const pages: ListPlacing[][] = [[]];
  let column = 0;
  let usedMm = 0;
  const nextColumn = () => {
    usedMm = 0;
    column++;
    if (column < columns) return;
    column = 0;
    pages.push([]);
  };
  trays.forEach((tray, t) => {
    let from = 0;
    while (from < tray.rows) {
      const gap = usedMm > 0 ? BETWEEN_MM : 0;
      const headMm = from === 0 ? tray.headMm : tray.againMm;
      const room = Math.floor((columnMm - usedMm - gap - headMm) / rowMm + 1e-9);
      const to = endOf(tray, from, room, (columnMm - usedMm) / columnMm);
      // In an empty column a list is broken anywhere rather than never.
      const end = to ?? (usedMm === 0 ? Math.min(tray.rows, from + Math.max(1, room)) : null);
      if (end === null) {
        nextColumn();
        continue;
      }
      pages.at(-1)?.push({ tray: t, from, to: end, column, topMm: usedMm + gap });
      usedMm += gap + headMm + (end - from) * rowMm;
      from = end;
      if (from < tray.rows) nextColumn();
    }
  });
  return pages.filter((page) => page.length > 0);
}

/** Where a list that begins at `from` ends in so much room; null: it is not begun there. */
function endOf(tray: Flowing, from: number, room: number, shareLeft: number): number | null {
  if (tray.rows - from <= room) return tray.rows;
  if (shareLeft < WORTH_BREAKING) return null;
  return tray.breaks.filter((at) => at > from && at <= from + room).at(-1) ?? null;
}
