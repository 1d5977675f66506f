import type { FloodWindow } from '../../../shared-types/flood';
import { num } from '../entry';

/** While the pump runs, in seconds from midnight; the end may lie after the next midnight. */
export interface PumpRun {
  startS: number;
  endS: number;
}

export const DAY_S = 86_400;
/** Floods that follow each other faster are one: no pump, and no drain, keeps up with that. */
const LEAST_PERIOD_MIN = 1;

/**
 * The pump's runs of one day, in order, those that touch or overlap joined. A window that ends
 * before it starts goes on over midnight; one that ends when it starts floods once. A flood begins
 * only before the window's end.
 */
export function pumpRuns(schedule: readonly FloodWindow[]): PumpRun[] {
  const starts: PumpRun[] = [];
  for (const window of schedule) {
    const { startHour, endHour, onMinutes } = window;
    const everyMinutes = Math.max(LEAST_PERIOD_MIN, window.everyMinutes);
    const span = endHour >= startHour ? endHour - startHour : endHour + 24 - startHour;
    const count = Math.max(1, Math.ceil((span * 60) / everyMinutes - 1e-9));
    for (let i = 0; i < count; i++) {
      const startS = (startHour * 3600 + i * everyMinutes * 60) % DAY_S;
      starts.push({ startS, endS: startS + onMinutes * 60 });
    }
  }
  return joined(starts);
}

function joined(runs: PumpRun[]): PumpRun[] {
  const sorted = [...runs].sort((a, b) => a.startS - b.startS);
  const result: PumpRun[] = [];
  for (const run of sorted) {
    const last = result.at(-1);
    if (last && run.startS <= last.endS) last.endS = Math.max(last.endS, run.endS);
    else result.push({ ...run });
  }
  // A run over midnight may reach into the first ones of the day, which is also the next day.
  for (;;) {
    const first = result[0];
    const last = result.at(-1);
    if (!first || !last) return result;
    if (last.endS - last.startS >= DAY_S) return [{ startS: 0, endS: DAY_S }];
    if (first === last || first.startS + DAY_S > last.endS) return result;
    last.endS = Math.max(last.endS, first.endS + DAY_S);
    result.shift();
  }
}

export function runningSeconds(runs: readonly PumpRun[]): number {
  return runs.reduce((sum, run) => sum + (run.endS - run.startS), 0);
}

/** From the end of each run to the start of the next, around the day. */
export function shortestPauseS(runs: readonly PumpRun[]): number | null {
  const [first] = runs;
  if (!first) return null;
  return Math.min(
    ...runs.map((run, i) => (runs[i + 1]?.startS ?? first.startS + DAY_S) - run.endS),
  );
}

/** Pumps that run at the same time, by their place in the list, and when. */
export interface Together {
  members: number[];
  times: PumpRun[];
}

/**
 * Every set of two or more pumps that run at once, with its times within one day: each time belongs
 * to all that run then, so that three pumps running together are one set and not three pairs.
 */
export function runningTogether(pumps: readonly (readonly PumpRun[])[]): Together[] {
  const runs = pumps.map((list) => list.flatMap(withinDay));
  const edges = [...new Set(runs.flat().flatMap((run) => [run.startS, run.endS]))].sort(
    (a, b) => a - b,
  );
  const found = new Map<string, Together>();
  for (let i = 1; i < edges.length; i++) {
    const startS = num(edges, i - 1);
    const endS = num(edges, i);
    // Less than a second is rounding.
    if (endS - startS < 1) continue;
    const members = runs.flatMap((list, pump) =>
      list.some((run) => run.startS < endS && run.endS > startS) ? [pump] : [],
    );
    if (members.length < 2) continue;
    const key = members.join();
    const known = found.get(key) ?? { members, times: [] };
    known.times.push({ startS, endS });
    found.set(key, known);
  }
  return [...found.values()].map(({ members, times }) => ({
    members,
    times: overMidnight(joined(times)),
  }));
}

/** What goes on after midnight belongs to the start of the day, which is also the next one. */
export function withinDay({ startS, endS }: PumpRun): PumpRun[] {
  if (endS <= DAY_S) return [{ startS, endS }];
  return [
    { startS, endS: DAY_S },
    { startS: 0, endS: endS - DAY_S },
  ];
}

/** A time up to midnight and one from midnight on are one. */
function overMidnight(times: PumpRun[]): PumpRun[] {
  const [first, ...rest] = times;
  const last = rest.at(-1);
  if (!first || !last || first.startS > 0 || last.endS < DAY_S) return times;
  return [...rest.slice(0, -1), { startS: last.startS, endS: DAY_S + first.endS }];
}
