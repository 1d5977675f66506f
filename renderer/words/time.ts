import { figure } from './numbers';

/** `40 s`, `4.5 min`, `2.3 h`. */
export function duration(seconds: number): string {
  if (seconds < 90) return `${figure(seconds, 2)} s`;
  if (seconds < 120 * 60) return `${figure(seconds / 60, seconds < 600 ? 2 : 3)} min`;
  return `${figure(seconds / 3600, 2)} h`;
}

/** `6:05` for an hour of the day. */
export function clock(hour: number): string {
  const minutes = Math.round(hour * 60);
  return `${Math.floor(minutes / 60) % 24}:${String(minutes % 60).padStart(2, '0')}`;
}
