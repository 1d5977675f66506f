import type { Plan } from '../../../shared-types/plan';
import { measurementTraits, type Measurement } from '../../../shared-types/trial/measurement';
import { plannedDay } from '../../document/queries/days';
import { millimetresIn } from '../../document/records';
import { daysBetween } from '../../engine/calendar';
import { potsOfRack, trayCanopyMm } from '../../engine/geometry';
import type { CanopyOn } from '../../engine/light';
import { memo } from '../memo';
import { trialDaysOf } from './burntDays';

/** Whether a measurement tells how high plants have grown above their pots. */
export const isPlantHeight = ({ kind, plantHeight, quantity, name, unit }: Measurement): boolean =>
  measurementTraits[kind].long &&
  (plantHeight ?? /height/i.test(`${quantity ?? ''} ${name}`)) &&
  millimetresIn(unit) !== null;

/** Heights that one measurement recorded. */
export interface RecordedHeights {
  measurement: Measurement;
  /** The day of most of its values. */
  date: string;
  /** Tops of the leaves above the shelf's surface (pot and plant), by pot id. mm. */
  topByPot: ReadonlyMap<string, number>;
}

const rimsMemo = memo(
  (rack: Plan['rack']): ReadonlyMap<string, number> =>
    new Map(potsOfRack(rack).map(({ id, heightMm }) => [id, heightMm])),
);

/** Of one measurement, so that a value of another changes nothing. */
const recordedMemo = memo(
  (
    rims: ReadonlyMap<string, number>,
    trial: Plan['trial'],
    measurement: Measurement,
    values: Readonly<Record<string, number>>,
    days: Readonly<Record<string, string>> | undefined,
  ): RecordedHeights | null => {
    const factor = millimetresIn(measurement.unit) ?? NaN;
    const planned = plannedDay({ trial }, measurement);
    const counts = new Map<string, number>();
    const topByPot = new Map<string, number>();
    for (const [potId, value] of Object.entries(values)) {
      const date = days?.[potId] ?? planned;
      const rim = rims.get(potId);
      if (date === null || rim === undefined) continue;
      counts.set(date, (counts.get(date) ?? 0) + 1);
      topByPot.set(potId, rim + value * factor);
    }
    const [usual] = [...counts].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1));
    return usual ? { measurement, date: usual[0], topByPot } : null;
  },
  24,
);

const inOrderMemo = memo((...found: readonly (RecordedHeights | null)[]): RecordedHeights[] =>
  found
    .flatMap((heights) => heights ?? [])
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0)),
);

const NO_VALUES: Readonly<Record<string, number>> = {};

/** Plant heights as they were recorded, the earliest first; those of no known day are left out. */
export function recordedHeightsOf({ rack, trial, records }: Plan): RecordedHeights[] {
  const measured = trial?.measurements.filter(isPlantHeight) ?? [];
  if (measured.length === 0) return inOrderMemo();
  const rims = rimsMemo(rack);
  return inOrderMemo(
    ...measured.map((measurement) => {
      const values = records.values[measurement.id] ?? NO_VALUES;
      return recordedMemo(rims, trial, measurement, values, records.days?.[measurement.id]);
    }),
  );
}

/** How the canopy's height over the trial is known. */
export type HeightsFrom = 'fixed' | 'planned' | 'recorded';

export interface CanopyOverTrial {
  from: HeightsFrom;
  days: number | null;
  on: CanopyOn;
}

interface Knot {
  day: number;
  mm: number;
}

/**
 * The canopy of every tray over the days of the trial: from planting to harvest as planned, and in
 * between by the means of recorded heights, linear from day to day. Without dates it stays as the
 * light plan names it; so it does where it is asked for `fixed`.
 */
export function canopyOverTrialOf(plan: Plan, counted: 'fixed' | 'recorded'): CanopyOverTrial {
  return overTrialMemo(
    plan.rack,
    plan.trial,
    plan.layout?.plantedAt ?? null,
    counted,
    recordedHeightsOf(plan),
  );
}

const overTrialMemo = memo(
  (
    rack: Plan['rack'],
    trial: Plan['trial'],
    plantedAt: string | null,
    counted: 'fixed' | 'recorded',
    all: readonly RecordedHeights[],
  ): CanopyOverTrial => {
    const dated = trialDaysOf({ trial });
    const recorded = counted === 'recorded' ? all : [];
    const start = trial?.startDate ?? plantedAt ?? recorded[0]?.date ?? null;
    const last = recorded.at(-1)?.date;
    const days = dated ?? (start !== null && last ? Math.max(1, daysBetween(start, last)) : null);
    if (counted === 'fixed' || start === null || days === null) {
      return { from: 'fixed', days, on: () => null };
    }
    const knots = new Map(
      rack.shelves.flatMap((shelf) =>
        shelf.trays.map((tray) => {
          const read = recorded.flatMap(({ date, topByPot }): Knot[] => {
            const tops = [...topByPot].flatMap(([potId, mm]) =>
              potId.startsWith(`${tray.id}:`) ? [mm] : [],
            );
            if (tops.length === 0) return [];
            const mm = tops.reduce((sum, value) => sum + value, 0) / tops.length;
            return [{ day: daysBetween(start, date), mm }];
          });
          const planned = (at: 'planting' | 'harvest') => trayCanopyMm(shelf, tray, at);
          return [tray.id, withEnds(read, planned, days)] as const;
        }),
      ),
    );
    return {
      from: recorded.length > 0 ? 'recorded' : 'planned',
      days,
      // The first day of the trial lasts from 0 to 1.
      on: (trayId, day) => between(knots.get(trayId) ?? [], day),
    };
  },
);

/** What is planned stands for the ends that nobody measured; plants do not shrink. */
function withEnds(
  read: readonly Knot[],
  planned: (at: 'planting' | 'harvest') => number,
  days: number,
): Knot[] {
  const [first, last] = [read[0], read.at(-1)];
  const knots = [...read];
  if (!first || first.day > 0) {
    knots.unshift({ day: 0, mm: Math.min(planned('planting'), first?.mm ?? Infinity) });
  }
  if (!last || last.day < days) {
    knots.push({ day: days, mm: Math.max(planned('harvest'), last?.mm ?? 0) });
  }
  return knots;
}

function between(knots: readonly Knot[], day: number): number | null {
  const next = knots.find((knot) => knot.day >= day) ?? knots.at(-1);
  if (!next) return null;
  const before = knots[knots.indexOf(next) - 1];
  if (!before || day >= next.day) return next.mm;
  const share = (day - before.day) / (next.day - before.day);
  return before.mm + share * (next.mm - before.mm);
}
