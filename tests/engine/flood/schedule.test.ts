import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  DAY_S,
  pumpRuns,
  runningSeconds,
  runningTogether,
  shortestPauseS,
  withinDay,
} from '../../../renderer/engine/flood/schedule';
import type { FloodWindow } from '../../../shared-types/flood';

/** Whole minutes of a day in which a pump runs, written out flood by flood. */
function minutesOf(schedule: readonly FloodWindow[]): boolean[] {
  const on = Array.from({ length: 1440 }, () => false);
  for (const { startHour, endHour, everyMinutes, onMinutes } of schedule) {
    const start = Math.round(startHour * 60);
    const span = Math.round(((endHour - startHour + 24) % 24) * 60);
    const length = endHour === 24 && startHour === 0 ? 1440 : span;
    let begin = 0;
    do {
      for (let m = 0; m < onMinutes; m++) on[(start + begin + m) % 1440] = true;
      begin += everyMinutes;
    } while (begin < length);
  }
  return on;
}

const minute = (low: number, high: number) => fc.integer({ min: low, max: high });
const windows: fc.Arbitrary<FloodWindow> = fc.record({
  startHour: minute(0, 95).map((quarter) => quarter / 4),
  endHour: minute(0, 95).map((quarter) => quarter / 4),
  everyMinutes: minute(10, 1440),
  onMinutes: minute(1, 200),
});
const schedules = fc.array(windows, { maxLength: 3 });
const runs = { numRuns: 60, seed: 1440 };

describe('the pumps’ day', () => {
  it('runs in the minutes that are written out by hand, day and night alike', () => {
    fc.assert(
      fc.property(schedules, (schedule) => {
        const expected = minutesOf(schedule);
        const found = pumpRuns(schedule);
        const on = Array.from({ length: 1440 }, (_, m) =>
          found.flatMap(withinDay).some((run) => run.startS <= m * 60 && run.endS >= (m + 1) * 60),
        );
        expect(on).toEqual(expected);
        expect(runningSeconds(found)).toBe(60 * expected.filter(Boolean).length);
      }),
      runs,
    );
  });

  it('finds every minute in which pumps run together, and no other', () => {
    fc.assert(
      fc.property(schedules, schedules, schedules, (a, b, c) => {
        const each = [a, b, c].map(minutesOf);
        const together = runningTogether([a, b, c].map(pumpRuns));
        for (let m = 0; m < 1440; m++) {
          const members = [0, 1, 2].filter((pump) => each[pump]?.[m]);
          const told = together.filter(({ times }) =>
            times
              .flatMap(withinDay)
              .some((run) => run.startS <= m * 60 && run.endS >= (m + 1) * 60),
          );
          expect(told.map((t) => t.members)).toEqual(members.length > 1 ? [members] : []);
        }
      }),
      { ...runs, numRuns: 20 },
    );
  });

  it('lets the night differ from the day', () => {
    const schedule: FloodWindow[] = [
      { startHour: 6, endHour: 22, everyMinutes: 240, onMinutes: 15 },
      { startHour: 22, endHour: 6, everyMinutes: 480, onMinutes: 5 },
    ];
    const found = pumpRuns(schedule);
    expect(found.map((run) => run.startS / 3600)).toEqual([6, 10, 14, 18, 22]);
    expect(found.map((run) => (run.endS - run.startS) / 60)).toEqual([15, 15, 15, 15, 5]);
    // From 18:15 to 22:00; the night's pause is longer.
    expect(shortestPauseS(found)).toBe(225 * 60);
  });

  it('goes on over midnight and joins what meets there', () => {
    const late = { startHour: 23.75, endHour: 23.75, everyMinutes: 60, onMinutes: 30 };
    const early = { startHour: 0.25, endHour: 0.25, everyMinutes: 60, onMinutes: 15 };
    expect(pumpRuns([late, early])).toEqual([{ startS: 23.75 * 3600, endS: DAY_S + 30 * 60 }]);
  });
});
