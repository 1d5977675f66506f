import { follow, type CoursePoint } from './tray/course';
import { Pool, still, type Filling } from './pool';
import { DAY_S, withinDay, type PumpRun } from './schedule';
import { cut, pumpOff } from './working';
import { num } from '../entry';

/** A day of a tray once its floods have become alike. */
export interface Day {
  points: CoursePoint[];
  /** Depth at each start of the pump, and the highest of each run, in the order of the runs. */
  atStartMm: number[];
  runPeaksMm: number[];
  /** Over the rim, L. */
  spilledL: number;
}

export interface ZoneDay {
  trays: Day[];
  /** While the pump runs and nothing is left in its reach, seconds from midnight. */
  dry: PumpRun[];
}

/**
 * The trays of a zone over one day, from midnight, when the days before went alike: three days are
 * run from drained trays, and the last is given. All water comes out of the reservoir, which holds
 * `waterL` in reach of the pump, when trays and media are dry.
 */
export function zoneDay(
  fillings: readonly Filling[],
  runs: readonly PumpRun[],
  waterL: number,
): ZoneDay {
  const [first] = runs;
  const pool = new Pool(fillings, waterL);
  const courses = pool.states.map(({ depthMm }): CoursePoint[] => [
    { seconds: first?.startS ?? 0, depthMm },
  ]);
  let trays = emptyDays(fillings);
  let dry: PumpRun[] = [];
  for (let day = 0; first && day < 3; day++) {
    pool.topUp();
    trays = emptyDays(fillings);
    dry = [];
    runs.forEach((run, r) => {
      const onS = run.endS - run.startS;
      const offS = (runs[r + 1]?.startS ?? first.startS + DAY_S) - run.endS;
      pool.states.forEach(({ depthMm }, i) => trays[i]?.atStartMm.push(depthMm));
      const on = pool.run(onS);
      on.courses.forEach((points, i) => {
        follow(courses[i] ?? [], points);
        trays[i]?.runPeaksMm.push(points.reduce((most, p) => Math.max(most, p.depthMm), -Infinity));
      });
      if (on.dryFromS < onS) dry.push({ startS: run.startS + on.dryFromS, endS: run.endS });
      if (offS <= 0) return;
      pool.states = fillings.map(({ work }, i) => {
        const before = pool.states[i] ?? { depthMm: 0, siphoning: false };
        const part = work.inflowLMin > 0 ? pumpOff(work, before, offS) : still(before, offS);
        follow(courses[i] ?? [], part.points);
        return part.to;
      });
    });
  }
  return {
    trays: trays.map((day, i) => ({
      ...day,
      points: cut(courses[i] ?? [], first ? 2 * DAY_S : 0),
      spilledL: num(pool.spilledL, i),
    })),
    dry: dry.flatMap(withinDay),
  };
}

const emptyDays = (fillings: readonly Filling[]): Omit<Day, 'points' | 'spilledL'>[] =>
  fillings.map(() => ({ atStartMm: [], runPeaksMm: [] }));
