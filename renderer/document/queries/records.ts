import { potsOfRack, walkingOrder } from '../../engine/geometry';
import type { Pot } from '../../engine/geometry';
import type { Plan } from '../../../shared-types/plan';
import type { Incident, Mark } from '../../../shared-types/records';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { refTo } from './refs';
import { trailOfSecond } from './trail';

/**
 * The pots that are measured: those of the layout where there is one, else all but guard pots; in
 * the order of the rack.
 */
export function potsToMeasure({ rack, layout }: Pick<Plan, 'rack' | 'layout'>): Pot[] {
  const pots = potsOfRack(rack);
  if (!layout) return pots.filter((pot) => !pot.guard);
  const drawn = new Set(layout.assignments.map((assignment) => assignment.potId));
  return pots.filter((pot) => drawn.has(pot.id));
}

const timepointOrder: Record<Measurement['timepoint'], number> = {
  start: 0,
  interim: 1,
  harvest: 2,
};

/** Measurements in the order they are taken: start, between by date (undated last), harvest. */
export function measurementsInOrder({ trial }: Pick<Plan, 'trial'>): Measurement[] {
  const dateOf = (measurement: Measurement) => measurement.date ?? '9999';
  return [...(trial?.measurements ?? [])].sort(
    (a, b) =>
      timepointOrder[a.timepoint] - timepointOrder[b.timepoint] ||
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
  const pots = potsToMeasure(plan).filter((pot) => trayId === undefined || pot.trayId === trayId);
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
  return progressByTray(
    potsToMeasure(plan),
    plan.records.values[measurementId] ?? {},
    plan.records.marks,
  );
}

/** The same for pots and values at hand, such as those of the second entry. */
export function progressByTray(
  pots: readonly Pot[],
  values: Readonly<Record<string, number>>,
  marks: Plan['records']['marks'],
): TrayProgress[] {
  const byTray = new Map<string, TrayProgress>();
  for (const { id, trayId } of pots) {
    let tray = byTray.get(trayId);
    if (!tray) {
      tray = { trayId, pots: 0, recorded: 0, dead: 0, missing: 0, excluded: 0, open: 0 };
      byTray.set(trayId, tray);
    }
    tray.pots += 1;
    tray[values[id] === undefined ? (marks[id]?.mark ?? 'open') : 'recorded'] += 1;
  }
  return [...byTray.values()];
}

/** What two people have entered differently. */
export type Disagreement =
  /** `first`: a value, or the mark that stands in its place. */
  | {
      kind: 'value';
      pot: Pot;
      measurement: Measurement;
      first: number | Mark['mark'];
      second: number;
    }
  /** The state of the plant; null: alive. */
  | { kind: 'state'; pot: Pot; first: Mark | null; second: Mark };

/**
 * Where the two entries differ, measurement by measurement in the order of the rack, then the
 * states of plants. What only one of them has got to yet is no difference. `pots`: the measured
 * pots, where they are at hand.
 */
export function disagreements(
  plan: Plan,
  pots: readonly Pot[] = potsToMeasure(plan),
): Disagreement[] {
  const { values, second, marks, secondMarks } = plan.records;
  const measurements = measurementsInOrder(plan);
  const ofValues = measurements.flatMap((measurement) => {
    const [one = {}, other] = [values[measurement.id], second[measurement.id]];
    if (!other) return [];
    return pots.flatMap((pot): Disagreement[] => {
      const [a, b] = [one[pot.id] ?? marks[pot.id]?.mark, other[pot.id]];
      if (a === undefined || b === undefined || a === b) return [];
      return [{ kind: 'value', pot, measurement, first: a, second: b }];
    });
  });
  if (!secondMarks) return ofValues;
  const ofStates = pots.flatMap((pot): Disagreement[] => {
    const [a = null, b] = [marks[pot.id], secondMarks[pot.id]];
    if (!b || a?.mark === b.mark) return [];
    const measured = measurements.some(
      ({ id }) => values[id]?.[pot.id] !== undefined && second[id]?.[pot.id] === undefined,
    );
    return a || measured ? [{ kind: 'state', pot, first: a, second: b }] : [];
  });
  return [...ofValues, ...ofStates];
}

/** The plan as the second person may see it: her own values and marks, nothing of the first entry. */
export function secondEntryOf(plan: Plan): Plan {
  const { secondMarks: marks = {}, second: values, trail, ...rest } = plan.records;
  const own = trail ? { trail: trailOfSecond(trail) } : {};
  return { ...plan, records: { ...rest, ...own, values, marks, second: {} } };
}

/** References of what an incident concerns, of those still on the rack; none: the whole rack. */
export function incidentRefs({ rack }: Pick<Plan, 'rack'>, { about }: Incident): string[] {
  const wanted = new Set(about);
  const refs = rack.shelves.flatMap((shelf) => [
    ...(wanted.has(shelf.id) ? [refTo('shelf', shelf.id)] : []),
    ...shelf.trays.flatMap((tray) => (wanted.has(tray.id) ? [refTo('tray', tray.id)] : [])),
    ...shelf.lamps.flatMap((lamp) => (wanted.has(lamp.id) ? [refTo('lamp', lamp.id)] : [])),
  ]);
  return [...refs, ...about.filter((id) => id.includes(':')).map((id) => refTo('pot', id))];
}

/** The incidents that concern a pot: itself, its tray, its shelf, a lamp over it or the whole rack. */
export function incidentsOfPot(
  plan: { rack: Plan['rack']; records: { incidents: readonly Incident[] } },
  pot: Pot,
): Incident[] {
  const lamps = plan.rack.shelves.find((s) => s.id === pot.shelfId)?.lamps ?? [];
  const names = new Set([pot.id, pot.trayId, pot.shelfId, ...lamps.map((lamp) => lamp.id)]);
  return plan.records.incidents.filter(
    ({ about }) => about.length === 0 || about.some((id) => names.has(id)),
  );
}
