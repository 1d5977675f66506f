import type { Records } from '../../../shared-types/records';

/** Takes a unit's day out of a draft's log of what was delivered, and the log with its last day. */
export function forgetDay(records: Records, unitId: string, date: string): void {
  const { delivered } = records;
  const byDay = delivered?.[unitId];
  if (!delivered || !byDay) return;
  Reflect.deleteProperty(byDay, date);
  if (Object.keys(byDay).length === 0) Reflect.deleteProperty(delivered, unitId);
  if (Object.keys(delivered).length === 0) Reflect.deleteProperty(records, 'delivered');
}
