import { useMemo } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { trayCode, type Pot } from '../../engine/geometry';
import { cellKey, measuredPotsOf } from '../../derive/records/valueQuestions';
import { measurementsInOrder, progressByTray } from '../../document/queries';
import { potsInOrder, type PotOrder } from '../../document/records';
import { passedOverIn } from './grid/gaps';
import type { Timepoint } from './RecordsBar';

/** Which pots and measurements the grid shows, in which order. */
export function useShownPots(
  { rack, layout, trial }: Plan,
  { trayId, order, timepoint }: { trayId: string | null; order: PotOrder; timepoint: Timepoint },
) {
  const measured = measuredPotsOf(rack, layout);
  const pots = useMemo(() => {
    const plants = new Map(layout?.assignments.map((a) => [a.potId, a.plant]));
    const shown = trayId === null ? measured : measured.filter((pot) => pot.trayId === trayId);
    return potsInOrder(shown, order, (id) => plants.get(id) ?? null);
  }, [measured, layout, trayId, order]);
  const measurements = useMemo(() => {
    const all = measurementsInOrder({ trial });
    const some = all.filter((m) => timepoint === 'all' || m.timepoint === timepoint);
    return some.length > 0 ? some : all;
  }, [trial, timepoint]);
  return { measured, pots, measurements };
}

/** How far each tray has come with one measurement. */
export function useTrays({ rack, records }: Plan, measured: readonly Pot[], measurementId: string) {
  const codes = useMemo(
    () =>
      new Map(
        rack.shelves.flatMap((s) => s.trays.map((t) => [t.id, trayCode(s.number, t.letter)])),
      ),
    [rack],
  );
  const values = records.values[measurementId];
  const { marks } = records;
  return useMemo(
    () =>
      progressByTray(measured, values ?? {}, marks).map((tray) => ({
        ...tray,
        code: codes.get(tray.trayId) ?? tray.trayId,
      })),
    [measured, values, marks, codes],
  );
}

/** Keys of the cells that were passed over and have neither value nor mark yet. */
export function passedCells(
  pots: readonly Pot[],
  measurements: readonly Measurement[],
  { values, marks }: Plan['records'],
  left: ReadonlySet<string>,
): ReadonlySet<string> {
  const passed = new Set<string>();
  for (const { id } of measurements) {
    const recorded = values[id] ?? NOTHING;
    for (const potId of passedOverIn(pots, recorded, marks)) passed.add(cellKey(id, potId));
  }
  for (const key of left) {
    const [measurementId = '', potId = ''] = key.split(' ');
    if (values[measurementId]?.[potId] === undefined && !marks[potId]) passed.add(key);
  }
  return passed;
}

/** How many of the pots shown are passed over in one column. The passed are few, the pots many. */
export function passedOf(
  passed: ReadonlySet<string>,
  measurementId: string,
  pots: readonly Pot[],
): number {
  let count = 0;
  for (const key of passed) {
    const [column, potId] = key.split(' ');
    if (column === measurementId && pots.some(({ id }) => id === potId)) count += 1;
  }
  return count;
}

const NOTHING = Object.freeze({});
