/** Where a key takes the cursor in the recording grid. Rows are pots in their order. */
export interface GridPlace {
  row: number;
  column: number;
}

export interface GridSize {
  rows: number;
  columns: number;
}

/** Where Enter goes: to the next pot, or through all measurements of a pot first. */
export type EnterWay = 'down' | 'across';

const PAGE = 12;

/** The cell after one whose value is done; the last one stays. */
export function cellAfter(at: GridPlace, size: GridSize, way: EnterWay): GridPlace {
  const lastRow = at.row >= size.rows - 1;
  const lastColumn = at.column >= size.columns - 1;
  if (way === 'down') {
    if (!lastRow) return { ...at, row: at.row + 1 };
    return lastColumn ? at : { row: 0, column: at.column + 1 };
  }
  if (!lastColumn) return { ...at, column: at.column + 1 };
  return lastRow ? at : { row: at.row + 1, column: 0 };
}

/** The cell before, on the same way; the first one stays. */
export function cellBefore(at: GridPlace, size: GridSize, way: EnterWay): GridPlace {
  if (way === 'down') {
    if (at.row > 0) return { ...at, row: at.row - 1 };
    return at.column > 0 ? { row: size.rows - 1, column: at.column - 1 } : at;
  }
  if (at.column > 0) return { ...at, column: at.column - 1 };
  return at.row > 0 ? { row: at.row - 1, column: size.columns - 1 } : at;
}

/** The cell that a key which only moves leads to; null where the key is none of these. */
export function cellByKey(key: string, at: GridPlace, size: GridSize): GridPlace | null {
  const row = (n: number) => ({ ...at, row: Math.min(size.rows - 1, Math.max(0, n)) });
  switch (key) {
    case 'ArrowDown':
      return row(at.row + 1);
    case 'ArrowUp':
      return row(at.row - 1);
    case 'PageDown':
      return row(at.row + PAGE);
    case 'PageUp':
      return row(at.row - PAGE);
    case 'ArrowLeft':
      return { ...at, column: Math.max(0, at.column - 1) };
    case 'ArrowRight':
      return { ...at, column: Math.min(size.columns - 1, at.column + 1) };
    default:
      return null;
  }
}

/**
 * The next cell that fits, after a place: down its column and round to where it began, then the
 * columns after it in the same way. Null where none fits.
 */
export function nextCellWhere(
  from: GridPlace,
  size: GridSize,
  fits: (place: GridPlace) => boolean,
): GridPlace | null {
  for (let c = 0; c < size.columns; c++) {
    const column = (from.column + c) % size.columns;
    for (let r = 1; r <= size.rows; r++) {
      const place = { row: ((c === 0 ? from.row : -1) + r) % size.rows, column };
      if (fits(place)) return place;
    }
  }
  return null;
}
