import type { CellReport } from './outcome';

/**
 * Where a pot may stand in several places of a table, by its day or in a tray, each measurement of it may
 * be given once; what is given more often is not taken at all.
 */
export function refuseTwice(cells: readonly CellReport[]): void {
  const known = new Map<string, CellReport[]>();
  for (const cell of cells) {
    const { outcome, potId } = cell;
    if (outcome.kind !== 'value' && outcome.kind !== 'out-of-range') continue;
    const key = `${outcome.measurementId} ${potId}`;
    known.set(key, [...(known.get(key) ?? []), cell]);
  }
  for (const list of known.values()) {
    if (list.length > 1) for (const cell of list) cell.outcome = { kind: 'twice' };
  }
}
