import type { FloodWindow } from '../../../shared-types/flood';

/** While the pump runs, in seconds from midnight; the end may lie after the next midnight. */
export interface PumpRun {
  startS: number;
  endS: number;
}

export const DAY_S = 86_400;

/**
 * The pump's runs of one day, in order, those that touch or overlap joined. A window that ends
 * before it starts goes on over midnight; one that ends when it starts floods once. A flood begins
 * only before the window's end.
 */
export function pumpRuns(schedule: readonly FloodWindow[]): PumpRun[] {
  const starts: PumpRun[] = [];
  for (const window of schedule) {
    const { startHour, endHour, everyMinutes, onMinutes } = window;
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

/** The times at which both run, within one day, in order. */
export function overlaps(a: readonly PumpRun[], b: readonly PumpRun[]): PumpRun[] {
  const both: PumpRun[] = [];
  for (const x of a) {
    for (const y of b) {
      for (const shift of [-DAY_S, 0, DAY_S]) {
        const startS = Math.max(x.startS, y.startS + shift);
        const endS = Math.min(x.endS, y.endS + shift);
        // Less than a second is rounding.
        if (endS - startS < 1) continue;
        both.push({ startS: startS % DAY_S, endS: (startS % DAY_S) + endS - startS });
      }
    }
  }
  return joined(both);
}
