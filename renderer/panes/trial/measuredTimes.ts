import type { Trial } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { usualMeasurements } from '../../document/newTrial';

export interface MeasuredTime {
  timepoint: Measurement['timepoint'];
  /** Of a day between start and harvest; null: no day is said. */
  date: string | null;
}

export interface MeasuredRow extends Pick<Measurement, 'name' | 'kind' | 'unit'> {
  /** The measurement at each time; null: not ticked. */
  at: (Measurement | null)[];
}

/** What is measured when: rows of what, columns of when. `days`: further days to tick at. */
export function measurementGrid(
  { measurements }: Pick<Trial, 'measurements'>,
  days: readonly string[],
): { times: MeasuredTime[]; rows: MeasuredRow[] } {
  const between = measurements.filter(({ timepoint }) => timepoint === 'interim');
  const dates = new Set([...between.flatMap(({ date }) => date ?? []), ...days]);
  const undated = between.some(({ date }) => date === null);
  const times: MeasuredTime[] = [
    { timepoint: 'start', date: null },
    ...[...dates].sort().map((date) => ({ timepoint: 'interim' as const, date })),
    ...(undated ? [{ timepoint: 'interim' as const, date: null }] : []),
    { timepoint: 'harvest', date: null },
  ];
  const own = measurements.map(({ name, quantity, kind, unit }) => ({
    name: quantity ?? name,
    kind,
    unit,
  }));
  // Called as the plan calls them, in its order, the usual ones after them.
  const rows = new Map(
    [...own, ...usualMeasurements, ...own].map((row) => [keyOf(row), row] as const),
  );
  const at = (row: MeasuredRow | (typeof own)[number], time: MeasuredTime) =>
    measurements.find(
      (m) =>
        m.timepoint === time.timepoint &&
        (time.timepoint !== 'interim' || m.date === time.date) &&
        keyOf({ ...m, name: m.quantity ?? m.name }) === keyOf(row),
    ) ?? null;
  return {
    times,
    rows: [...rows.values()].map((row) => ({ ...row, at: times.map((time) => at(row, time)) })),
  };
}

const keyOf = ({ name, kind }: Pick<Measurement, 'name' | 'kind'>): string =>
  `${kind} ${name.toLowerCase()}`;
