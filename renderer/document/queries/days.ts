import { dateOf } from '../../engine/calendar';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';

/** The day of a measurement, ISO 8601: its own, or the trial's at start and harvest; null: not said. */
export function plannedDay(
  { trial }: Pick<Plan, 'trial'>,
  measurement: Measurement,
): string | null {
  return trial && dateOf(trial, measurement);
}

/** The day on which the value of one pot was taken, ISO 8601; null: not said. */
export function dayTaken(
  plan: Pick<Plan, 'trial' | 'records'>,
  measurement: Measurement,
  potId: string,
): string | null {
  return plan.records.days?.[measurement.id]?.[potId] ?? plannedDay(plan, measurement);
}

/** The first day on which a value of a measurement was taken, by its own date and those of its values. */
export function firstDayTaken(
  { records }: Pick<Plan, 'records'>,
  { id, date }: Measurement,
): string | null {
  const days = records.days?.[id];
  if (!days) return date;
  const onItsDay = Object.keys(records.values[id] ?? {}).some((pot) => days[pot] === undefined);
  const known = [...Object.values(days), ...(date !== null && onItsDay ? [date] : [])];
  return known.sort()[0] ?? null;
}
