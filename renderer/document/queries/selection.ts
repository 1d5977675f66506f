import { findBoard, findLamp, findShelf, findTray, potsOfTray } from '../../engine/geometry';
import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Board, Lamp, Shelf, Tray } from '../../../shared-types/rack';
import { splitPotId } from '../potsInRack';
import { parseRef } from './refs';

/** What a selection holds of the rack, each with the shelf it belongs to. */
export interface Selected {
  shelves: Shelf[];
  trays: { shelf: Shelf; tray: Tray }[];
  lamps: { shelf: Shelf; lamp: Lamp }[];
  boards: { shelf: Shelf; board: Board }[];
  pots: Pot[];
}

/** Looks a selection's references up; those of things that are gone are left out. */
export function lookUp(plan: Plan, refs: readonly string[]): Selected {
  const selected: Selected = { shelves: [], trays: [], lamps: [], boards: [], pots: [] };
  const potsByTray = new Map<string, Map<string, Pot>>();
  for (const ref of refs) {
    const { kind, id } = parseRef(ref) ?? { kind: null, id: '' };
    if (kind === 'shelf') {
      const shelf = findShelf(plan.rack, id);
      if (shelf) selected.shelves.push(shelf);
    } else if (kind === 'tray') {
      const found = findTray(plan.rack, id);
      if (found) selected.trays.push(found);
    } else if (kind === 'lamp') {
      const found = findLamp(plan.rack, id);
      if (found) selected.lamps.push(found);
    } else if (kind === 'board') {
      const found = findBoard(plan.rack, id);
      if (found) selected.boards.push(found);
    } else if (kind === 'pot') {
      const pot = potIn(plan, id, potsByTray);
      if (pot) selected.pots.push(pot);
    }
  }
  return selected;
}

function potIn(plan: Plan, id: string, potsByTray: Map<string, Map<string, Pot>>): Pot | undefined {
  const trayId = splitPotId(id)?.trayId;
  if (trayId === undefined) return undefined;
  let pots = potsByTray.get(trayId);
  if (!pots) {
    const found = findTray(plan.rack, trayId);
    const list = found ? potsOfTray(found.shelf, found.tray) : [];
    pots = new Map(list.map((pot) => [pot.id, pot]));
    potsByTray.set(trayId, pots);
  }
  return pots.get(id);
}

/** The shelf that a reference to a shelf, or to what is on it, leads to. */
export function shelfOf(plan: Plan, ref: string): Shelf | undefined {
  const { shelves, trays, lamps, boards, pots } = lookUp(plan, [ref]);
  const [pot] = pots;
  return (
    shelves[0] ??
    trays[0]?.shelf ??
    lamps[0]?.shelf ??
    boards[0]?.shelf ??
    (pot && findShelf(plan.rack, pot.shelfId))
  );
}
