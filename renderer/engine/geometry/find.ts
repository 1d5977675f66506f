import type { Board, Lamp, Rack, Shelf, Tray } from '../../../shared-types/rack';

export function findShelf(rack: Rack, id: string): Shelf | undefined {
  return rack.shelves.find((shelf) => shelf.id === id);
}

export function findTray(rack: Rack, id: string): { shelf: Shelf; tray: Tray } | undefined {
  for (const shelf of rack.shelves) {
    const tray = shelf.trays.find((t) => t.id === id);
    if (tray) return { shelf, tray };
  }
  return undefined;
}

export function findLamp(rack: Rack, id: string): { shelf: Shelf; lamp: Lamp } | undefined {
  for (const shelf of rack.shelves) {
    const lamp = shelf.lamps.find((l) => l.id === id);
    if (lamp) return { shelf, lamp };
  }
  return undefined;
}

export function findBoard(rack: Rack, id: string): { shelf: Shelf; board: Board } | undefined {
  for (const shelf of rack.shelves) {
    const board = shelf.boards?.find((b) => b.id === id);
    if (board) return { shelf, board };
  }
  return undefined;
}

/** The shelf in whose bay a height above the floor lies: the highest one that is not above it. */
export function shelfAtHeight(shelves: readonly Shelf[], heightMm: number): Shelf | undefined {
  return shelves.reduce<Shelf | undefined>(
    (best, shelf) =>
      shelf.heightMm <= heightMm && !(best && best.heightMm >= shelf.heightMm) ? shelf : best,
    undefined,
  );
}
