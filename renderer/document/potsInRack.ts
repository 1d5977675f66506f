import type { Rack, Shelf, Tray } from '../../shared-types/rack';

/** Tray id, row and column of a pot id; null where the text is none. */
export function splitPotId(potId: string): { trayId: string; row: number; column: number } | null {
  const parts = /^([a-z]+[0-9]+):([0-9]+):([0-9]+)$/.exec(potId);
  const trayId = parts?.[1];
  if (trayId === undefined) return null;
  return { trayId, row: Number(parts?.[2]), column: Number(parts?.[3]) };
}

export function holeOf(row: number, column: number): string {
  return `${row}:${column}`;
}

/** Where every tray of the rack stands, by tray id. */
export function traysById(rack: Rack): Map<string, { shelf: Shelf; tray: Tray }> {
  const trays = new Map<string, { shelf: Shelf; tray: Tray }>();
  for (const shelf of rack.shelves) {
    for (const tray of shelf.trays) trays.set(tray.id, { shelf, tray });
  }
  return trays;
}

/** A test for pot ids: does a pot stand there? Empty holes and holes outside a grid hold none. */
export function potTest(rack: Rack): (potId: string) => boolean {
  const trays = traysById(rack);
  const emptyHoles = new Map<string, Set<string>>();
  for (const { tray } of trays.values()) emptyHoles.set(tray.id, new Set(tray.grid?.empty));
  return (potId) => {
    const place = splitPotId(potId);
    const grid = place && trays.get(place.trayId)?.tray.grid;
    if (!grid) return false;
    const { trayId, row, column } = place;
    if (potId !== `${trayId}:${row}:${column}`) return false;
    const inside = row >= 1 && column >= 1 && row <= grid.rows && column <= grid.columns;
    return inside && emptyHoles.get(trayId)?.has(holeOf(row, column)) !== true;
  };
}
