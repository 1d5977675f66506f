/** What a cell of a table that is analysed holds; null: nothing. */
export type Cell = string | number | null;

/** Empty cells, blanks and `NA` are missing. */
export function isMissing(cell: Cell | undefined): boolean {
  if (cell === null || cell === undefined) return true;
  if (typeof cell === 'number') return !Number.isFinite(cell);
  const text = cell.trim();
  return text === '' || text === 'NA';
}

/** Digits with a decimal point and a power of ten, as in `-1.5e3`; no hexadecimal, no `Infinity`. */
const DECIMAL = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** The finite number a cell holds, or null where it holds none. */
export function cellNumber(cell: Cell | undefined): number | null {
  if (typeof cell === 'number') return Number.isFinite(cell) ? cell : null;
  if (typeof cell !== 'string' || !DECIMAL.test(cell.trim())) return null;
  const value = Number(cell);
  return Number.isFinite(value) ? value : null;
}
