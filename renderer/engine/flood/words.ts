import { figure } from '../../words';

/** `40 s`, `4.5 min`, `2.3 h`. */
export function duration(seconds: number): string {
  if (seconds < 90) return `${figure(seconds, 2)} s`;
  if (seconds < 120 * 60) return `${figure(seconds / 60, seconds < 600 ? 2 : 3)} min`;
  return `${figure(seconds / 3600, 2)} h`;
}

/** `needs 6 min, gets 2`. */
export function needsAndGets(needsS: number, getsS: number): string {
  const [needs, gets] = [duration(needsS), duration(getsS)];
  const unit = needs.slice(needs.indexOf(' '));
  return `needs ${needs}, gets ${gets.endsWith(unit) ? gets.slice(0, -unit.length) : gets}`;
}

/** `6:05` for an hour of the day. */
export function clock(hour: number): string {
  const minutes = Math.round(hour * 60);
  return `${Math.floor(minutes / 60) % 24}:${String(minutes % 60).padStart(2, '0')}`;
}
