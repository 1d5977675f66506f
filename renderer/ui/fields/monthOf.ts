import type { WeekStart } from '../../../shared-types/window/locale';

const DAY_MS = 86_400_000;
/** As `getUTCDay` counts. */
const FIRST: Record<WeekStart, number> = { sunday: 0, monday: 1, saturday: 6 };
const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const MONTHS =
  'January February March April May June July August September October November December'.split(
    ' ',
  );

const utc = (iso: string): Date => new Date(`${iso}T00:00:00Z`);
const isoOf = (date: Date): string => date.toISOString().slice(0, 10);

/** So many days later. */
export const daysAfter = (iso: string, days: number): string =>
  isoOf(new Date(utc(iso).getTime() + days * DAY_MS));

/** The same day so many months later, or the last of that month where it is shorter. */
export function monthsAfter(iso: string, months: number): string {
  const date = utc(iso);
  const day = date.getUTCDate();
  date.setUTCDate(1);
  date.setUTCMonth(date.getUTCMonth() + months);
  const last = new Date(Date.UTC(date.getUTCFullYear(), date.getUTCMonth() + 1, 0)).getUTCDate();
  date.setUTCDate(Math.min(day, last));
  return isoOf(date);
}

/** The first day of the week that a day is in. */
export const weekOf = (iso: string, weekStart: WeekStart): string =>
  daysAfter(iso, -((utc(iso).getUTCDay() - FIRST[weekStart] + 7) % 7));

/** The weeks that the month of a day reaches into, each of seven days. */
export function weeksOf(iso: string, weekStart: WeekStart): string[][] {
  const month = iso.slice(0, 7);
  const weeks: string[][] = [];
  let first = weekOf(`${month}-01`, weekStart);
  while (first.slice(0, 7) <= month) {
    const from = first;
    weeks.push(Array.from({ length: 7 }, (_, i) => daysAfter(from, i)));
    first = daysAfter(first, 7);
  }
  return weeks;
}

/** The names of the days in the order of a week. */
export const weekdays = (weekStart: WeekStart): string[] =>
  DAYS.map((_, i) => DAYS[(FIRST[weekStart] + i) % 7] ?? '');

/** `March 2026`. */
export function monthName(iso: string): string {
  const date = utc(iso);
  return `${MONTHS[date.getUTCMonth()] ?? ''} ${date.getUTCFullYear()}`;
}
