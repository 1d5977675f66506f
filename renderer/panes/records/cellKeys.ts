/** Where a key takes the cursor in the recording grid. Rows are pots in walking order. */
export interface GridPlace {
  row: number;
  column: number;
}

/**
 * The next cell for a key, or null where the key is none of the grid's. Enter goes on to the next
 * pot, and from the last pot to the next measurement's first.
 */
export function nextCell(
  key: string,
  shift: boolean,
  at: GridPlace,
  size: { rows: number; columns: number },
): GridPlace | null {
  const last = size.rows - 1;
  switch (key) {
    case 'Enter':
      if (shift) return at.row > 0 ? { ...at, row: at.row - 1 } : at;
      if (at.row < last) return { ...at, row: at.row + 1 };
      return at.column < size.columns - 1 ? { row: 0, column: at.column + 1 } : at;
    case 'ArrowDown':
      return { ...at, row: Math.min(last, at.row + 1) };
    case 'ArrowUp':
      return { ...at, row: Math.max(0, at.row - 1) };
    case 'PageDown':
      return { ...at, row: Math.min(last, at.row + 12) };
    case 'PageUp':
      return { ...at, row: Math.max(0, at.row - 12) };
    default:
      return null;
  }
}
