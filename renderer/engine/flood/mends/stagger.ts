import type { FloodWindow, FloodZone } from '../../../../shared-types/flood';
import { pumpRuns, runningTogether } from '../schedule';

/** Between the end of one pump's run and the start of the next, min. */
const GAP_MIN = 1;

/**
 * Hours of each zone, by id, so that no two pumps run at once: each zone begins when the one before it
 * has ended. null where they do not run together, or the day is too short for them one by one.
 */
export function staggered(
  zones: readonly Pick<FloodZone, 'id' | 'schedule'>[],
): ReadonlyMap<string, FloodWindow[]> | null {
  const runs = (schedules: readonly (readonly FloodWindow[])[]) =>
    schedules.map((s) => pumpRuns(s));
  if (runningTogether(runs(zones.map(({ schedule }) => schedule))).length === 0) return null;
  let laterMin = 0;
  const shifted = zones.map(({ id, schedule }) => {
    const own = schedule.map((window) => laterBy(window, laterMin));
    const longest = Math.max(0, ...schedule.map(({ onMinutes }) => onMinutes));
    if (longest > 0) laterMin += longest + GAP_MIN;
    return [id, own] as const;
  });
  const apart = runningTogether(runs(shifted.map(([, schedule]) => schedule))).length === 0;
  return apart ? new Map(shifted) : null;
}

/** The same window so many minutes later in the day. */
function laterBy(window: FloodWindow, minutes: number): FloodWindow {
  if (minutes === 0) return window;
  const later = (hour: number) => {
    const at = (hour * 60 + minutes) % (24 * 60);
    return at / 60;
  };
  const whole = window.endHour - window.startHour === 24;
  const startHour = later(window.startHour);
  // All day long stays all day long, from another minute on.
  return { ...window, startHour, endHour: whole ? startHour : later(window.endHour) };
}
