import type { Trial } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';

/** The day a measurement was taken: its own date, or the trial's where it is at start or harvest. */
export function dateOf(trial: Trial, measurement: Measurement): string | null {
  if (measurement.date !== null) return measurement.date;
  if (measurement.timepoint === 'start') return trial.startDate;
  return measurement.timepoint === 'harvest' ? trial.harvestDate : null;
}

/** Whole days between two ISO dates. */
export function daysBetween(from: string, to: string): number {
  return dayNumber(to) - dayNumber(from);
}

// Days since 0000-03-01 in the proleptic Gregorian calendar: starting the year in March puts the
// leap day last, so that no table of month lengths is needed.
function dayNumber(date: string): number {
  const [y = 0, m = 1, d = 1] = date.split('-').map(Number);
  const year = m <= 2 ? y - 1 : y;
  const month = m <= 2 ? m + 9 : m - 3;
  const leaps = Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400);
  return year * 365 + leaps + Math.floor((153 * month + 2) / 5) + d;
}
