import { potsOfRack, walkingOrder } from '../../engine/geometry';
import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Mark } from '../../../shared-types/records';
import type { Measurement } from '../../../shared-types/trial';

/**
 * The pots that are measured: those of the layout where there is one, else all but guard pots; in
 * the order of the rack.
 */
export function measuredPots(plan: Plan): Pot[] {
  const pots = potsOfRack(plan.rack);
  if (!plan.layout) return pots.filter((pot) => !pot.guard);
  const drawn = new Set(plan.layout.assignments.map((assignment) => assignment.potId));
  return pots.filter((pot) => drawn.has(pot.id));
}

const momentOrder: Record<Measurement['moment'], number> = { start: 0, interim: 1, harvest: 2 };

/** Measurements in the order they are taken: start, between by date (undated last), harvest. */
export function measurementsInOrder(plan: Plan): Measurement[] {
  const dateOf = (measurement: Measurement) => measurement.date ?? '9999';
  return [...(plan.trial?.measurements ?? [])].sort(
    (a, b) =>
      momentOrder[a.moment] - momentOrder[b.moment] ||
      (dateOf(a) < dateOf(b) ? -1 : dateOf(a) > dateOf(b) ? 1 : 0),
  );
}

/** One cell of the recording grid. */
export interface RecordCell {
  pot: Pot;
  value: number | null;
  /** Of the independent second entry. */
  second: number | null;
  mark: Mark['mark'] | null;
  /** Code of the plant, where plants have codes. */
  plant: string | null;
}

/** The cells of one measurement in walking order, of one tray or of the whole rack. */
export function walkingCells(plan: Plan, measurementId: string, trayId?: string): RecordCell[] {
  const { values, second, marks } = plan.records;
  const plants = new Map(plan.layout?.assignments.map((a) => [a.potId, a.plant]));
  const pots = measuredPots(plan).filter((pot) => trayId === undefined || pot.trayId === trayId);
  return walkingOrder(pots).map((pot) => ({
    pot,
    value: values[measurementId]?.[pot.id] ?? null,
    second: second[measurementId]?.[pot.id] ?? null,
    mark: marks[pot.id]?.mark ?? null,
    plant: plants.get(pot.id) ?? null,
  }));
}

/** How far the recording of one tray has come. The parts add up to `pots`. */
export interface TrayProgress {
  trayId: string;
  pots: number;
  recorded: number;
  /** Without a value, and marked so. */
  dead: number;
  missing: number;
  excluded: number;
  /** Still to be recorded. */
  open: number;
}

/** The progress of one measurement, tray by tray in the order of the rack. */
export function recordProgress(plan: Plan, measurementId: string): TrayProgress[] {
  const values = plan.records.values[measurementId] ?? {};
  const byTray = new Map<string, TrayProgress>();
  for (const { id, trayId } of measuredPots(plan)) {
    const tray = byTray.get(trayId) ?? {
      trayId,
      pots: 0,
      recorded: 0,
      dead: 0,
      missing: 0,
      excluded: 0,
      open: 0,
    };
    tray.pots += 1;
    tray[values[id] === undefined ? (plan.records.marks[id]?.mark ?? 'open') : 'recorded'] += 1;
    byTray.set(trayId, tray);
  }
  return [...byTray.values()];
}
