import type { Rack } from '../../../shared-types/rack';
import { potsOfTray } from '../geometry';
import type { Pot } from '../geometry';

const idNumber = (id: string): number => Number(/[0-9]+/.exec(id)?.[0] ?? 0);

const known = new WeakMap<Rack, readonly Pot[]>();

/**
 * The pots that the trial measures (no guard pots), in an order made of permanent ids alone:
 * shelf, tray, row, column. Neither the list order of shelves and trays nor their names count.
 */
export function measuredPots(rack: Rack): readonly Pot[] {
  const pots = known.get(rack) ?? inOrder(rack);
  known.set(rack, pots);
  return pots;
}

/** A tray lists its own row by row already, so that trays are sorted and not pots. */
function inOrder({ shelves }: Rack): Pot[] {
  const trays = shelves.flatMap((shelf) =>
    shelf.trays.map((tray) => ({
      shelf: idNumber(shelf.id),
      tray: idNumber(tray.id),
      pots: potsOfTray(shelf, tray).filter((pot) => !pot.guard),
    })),
  );
  trays.sort((a, b) => a.shelf - b.shelf || a.tray - b.tray);
  return trays.flatMap(({ pots }) => pots);
}
