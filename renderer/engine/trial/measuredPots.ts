import type { Rack } from '../../../shared-types/rack';
import { potsOfRack } from '../geometry';
import type { Pot } from '../geometry';

const idNumber = (id: string): number => Number(/[0-9]+/.exec(id)?.[0] ?? 0);

/**
 * The pots that the trial measures (no guard pots), in an order made of permanent ids alone:
 * shelf, tray, row, column. Neither the list order of shelves and trays nor their names count.
 */
export function measuredPots(rack: Rack): Pot[] {
  return potsOfRack(rack)
    .filter((pot) => !pot.guard)
    .sort(
      (a, b) =>
        idNumber(a.shelfId) - idNumber(b.shelfId) ||
        idNumber(a.trayId) - idNumber(b.trayId) ||
        a.row - b.row ||
        a.column - b.column,
    );
}
