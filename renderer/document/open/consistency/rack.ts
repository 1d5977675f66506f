import { bayCount } from '../../../engine/geometry';
import { boardFault } from '../../edits/boards';
import { rotaFault } from '../../rota';
import { sayFound } from '../words';
import { contradict, type Check } from './contradiction';

/** Far more than a room of racks holds; beyond, a file only means to exhaust its reader. */
const MOST_HOLES = 60_000;

export const rackHangsTogether: Check = (plan) => {
  const kinds = new Set(plan.rack.lampKinds.map((kind) => kind.id));
  const grids = plan.rack.shelves.flatMap((shelf) => shelf.trays.flatMap((t) => t.grid ?? []));
  const holes = grids.reduce((sum, grid) => sum + grid.rows * grid.columns, 0);
  if (holes > MOST_HOLES) {
    return contradict(['rack', 'shelves'], `${holes} holes for pots`, `at most ${MOST_HOLES}`);
  }
  for (const [s, shelf] of plan.rack.shelves.entries()) {
    const at = ['rack', 'shelves', s];
    const bays = bayCount(shelf.boards ?? []);
    const named = shelf.bays?.length ?? 1;
    if (named !== bays) {
      return contradict([...at, 'bays'], String(named), `${bays}, what its boards part it into`);
    }
    const fault = boardFault(shelf);
    if (fault) return contradict([...at, 'boards'], fault.found, fault.expected);
    for (const [l, lamp] of shelf.lamps.entries()) {
      if (!kinds.has(lamp.kindId)) {
        const path = ['rack', 'shelves', s, 'lamps', l, 'kindId'];
        return contradict(path, sayFound(lamp.kindId), 'the id of one of rack.lampKinds');
      }
    }
    for (const [t, tray] of shelf.trays.entries()) {
      const grid = tray.grid;
      if (!grid) continue;
      for (const list of ['guards', 'empty'] as const) {
        for (const [h, hole] of grid[list].entries()) {
          const [row = 0, column = 0] = hole.split(':').map(Number);
          if (row >= 1 && column >= 1 && row <= grid.rows && column <= grid.columns) continue;
          const path = ['rack', 'shelves', s, 'trays', t, 'grid', list, h];
          return contradict(
            path,
            sayFound(hole),
            `a hole of the ${grid.rows} × ${grid.columns} grid`,
          );
        }
      }
    }
  }
  return null;
};

export const kindsAndLightAgree: Check = (plan) => {
  for (const [k, { output }] of plan.rack.lampKinds.entries()) {
    switch (output.kind) {
      case 'photons':
      case 'watts':
        break;
      case 'lumens': {
        const { lowest, highest, lumensPerUmolS } = output;
        if (lowest <= lumensPerUmolS && lumensPerUmolS <= highest) break;
        const path = ['rack', 'lampKinds', k, 'output', 'lumensPerUmolS'];
        return contradict(
          path,
          String(lumensPerUmolS),
          `a number from its ${lowest} to its ${highest}`,
        );
      }
      default:
        return output satisfies never;
    }
  }
  const target = plan.light.targetPpfdUmol;
  if (target && target.lowest > target.highest) {
    const path = ['light', 'targetPpfdUmol', 'highest'];
    return contradict(path, String(target.highest), `at least the lowest, ${target.lowest}`);
  }
  const shelves = new Set(plan.rack.shelves.map((shelf) => shelf.id));
  for (const [r, reading] of plan.light.readings.entries()) {
    const at = ['light', 'readings', r];
    if (!shelves.has(reading.shelfId)) {
      return contradict(
        [...at, 'shelfId'],
        sayFound(reading.shelfId),
        'the id of one of rack.shelves',
      );
    }
    const { luxPerPpfd, luxRange } = reading;
    if (luxRange && luxPerPpfd !== null) {
      const { lowest, highest } = luxRange;
      if (!(lowest <= luxPerPpfd && luxPerPpfd <= highest)) {
        const found = `${lowest} to ${highest}`;
        return contradict(
          [...at, 'luxRange'],
          found,
          `a range that holds the factor ${luxPerPpfd}`,
        );
      }
    }
    if (reading.unit === 'lux' && luxPerPpfd === null) {
      return contradict([...at, 'luxPerPpfd'], 'null', 'a number, because the reading is in lux');
    }
  }
  return null;
};

export const rotaHangsTogether: Check = (plan) => {
  const fault = rotaFault(plan);
  return fault && contradict(fault.at, fault.found, fault.expected);
};
