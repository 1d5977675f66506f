import type { Shelf } from '../../../shared-types/rack';
import { potsOfTray, type PotSize, type SizedTray } from '../geometry';
import { settingsAt, type CarriedLevels } from './levels';

/** A shelf whose pots have the sizes that levels set; the same object where they set none. */
export function repottedShelf<T extends Shelf>(shelf: T, carried: readonly CarriedLevels[]): T {
  if (!carried.some(({ factor }) => factor.appliedThrough === 'hand')) return shelf;
  const trays = shelf.trays.map((tray): SizedTray => {
    const sizes = potsOfTray(shelf, tray).flatMap(({ id, row, column }) => {
      const own = sizeOf(carried, id);
      return own ? [[`${row}:${column}`, own] as const] : [];
    });
    return sizes.length > 0 ? { ...tray, sizes: Object.fromEntries(sizes) } : tray;
  });
  return trays.some((tray, i) => tray !== shelf.trays[i]) ? { ...shelf, trays } : shelf;
}

/** What the levels on a pot set of its size; null: nothing. */
export function sizeOf(carried: readonly CarriedLevels[], potId: string): PotSize | null {
  const { potDiameterMm, potHeightMm } = settingsAt(carried, 'hand', potId) ?? {};
  if (potDiameterMm === undefined && potHeightMm === undefined) return null;
  return {
    ...(potDiameterMm !== undefined && { diameterMm: potDiameterMm }),
    ...(potHeightMm !== undefined && { heightMm: potHeightMm }),
  };
}
