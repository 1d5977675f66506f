import { follow, runTo, type CoursePoint } from './tray/course';
import { riseOverLip, type Work } from './tray/lip';
import { outflowLMin, outletsOf, overLipLMin, SHUT } from './tray/outlet';
import { DAY_S } from './schedule';

/** Where the water is, and whether a siphon is pulling. */
export interface State {
  depthMm: number;
  siphoning: boolean;
}

/** Whether the inflow fills the crown; null: its trip flow has not been stated. */
export function siphonStarts({ zone, basin, inflowLMin }: Work): boolean | null {
  if (zone.drain.kind !== 'siphon') return false;
  // Water that runs over the rim first never comes to the crown.
  if (zone.floodDepthMm > basin.rimMm) return false;
  const { tripFlowLMin } = zone.drain;
  return tripFlowLMin === null ? null : inflowLMin >= tripFlowLMin;
}

/**
 * A siphon that fills and empties more often than this while its pump runs is a trickle for all
 * that matters here: the rest of the run is drawn at the mean depth so far.
 */
const MOST_CYCLES = 1000;

/** How one tray went for a while. */
export interface Part {
  points: CoursePoint[];
  to: State;
}

export function pumpOn(work: Work, state: State, seconds: number): Part {
  const { zone, basin, inflowLMin: q } = work;
  const { emptying, leak } = outletsOf(zone);
  const points: CoursePoint[] = [{ seconds: 0, depthMm: state.depthMm }];
  const now: State = { ...state };
  const left = () => seconds - (points.at(-1)?.seconds ?? 0);
  const go = (through: typeof leak, toMm: number): boolean => {
    const course = runTo(basin, q, through, now.depthMm, toMm, left());
    follow(points, course.points);
    now.depthMm = course.depthMm;
    return course.arrived;
  };
  const hold = () => points.push({ seconds, depthMm: now.depthMm });
  const rise = (boreMm: number) => {
    follow(points, riseOverLip(work, boreMm, now.depthMm, left()));
    now.depthMm = points.at(-1)?.depthMm ?? now.depthMm;
  };
  const { drain } = zone;
  if (drain.kind === 'valve') {
    if (now.depthMm >= basin.rimMm || go(SHUT, basin.rimMm)) hold();
    return { points, to: now };
  }
  const crest = Math.min(zone.floodDepthMm, basin.rimMm);
  if (drain.kind === 'standpipe') {
    if (now.depthMm >= crest || go(leak, crest)) rise(drain.overflowBoreMm);
    return { points, to: now };
  }
  for (let half = 0; left() > 1e-6; half++) {
    if (half > 2 * MOST_CYCLES) {
      now.depthMm = meanOver(points, (mm) => mm);
      hold();
      break;
    }
    if (!now.siphoning) {
      if (now.depthMm < crest && !go(SHUT, crest)) break;
      if (siphonStarts(work) === false) {
        rise(drain.boreMm);
        break;
      }
      now.siphoning = true;
      continue;
    }
    const falls = outflowLMin(emptying, now.depthMm) > q;
    if (!go(emptying, falls ? zone.residualMm : basin.rimMm)) break;
    if (falls) now.siphoning = false;
    else {
      hold();
      break;
    }
  }
  return { points, to: now };
}

export function pumpOff(work: Work, state: State, seconds: number): Part {
  const { zone, basin } = work;
  const points: CoursePoint[] = [{ seconds: 0, depthMm: state.depthMm }];
  const empties = zone.drain.kind !== 'siphon' || state.siphoning;
  if (!empties || state.depthMm <= zone.residualMm) {
    // What stands over the crown still trickles off.
    const depthMm = empties ? state.depthMm : Math.min(state.depthMm, zone.floodDepthMm);
    points.push({ seconds: 0, depthMm }, { seconds, depthMm });
    return { points, to: { depthMm, siphoning: false } };
  }
  const { emptying } = outletsOf(zone);
  const course = runTo(basin, 0, emptying, state.depthMm, zone.residualMm, seconds);
  follow(points, course.points);
  if (course.arrived) points.push({ seconds, depthMm: course.depthMm });
  return { points, to: { depthMm: course.depthMm, siphoning: !course.arrived && state.siphoning } };
}

/** One day of a longer course, from `fromS` on, with seconds counted from there. */
export function cut(points: readonly CoursePoint[], fromS: number): CoursePoint[] {
  const toS = fromS + DAY_S;
  const inside = points.filter((p) => p.seconds > fromS && p.seconds < toS);
  return [
    { seconds: 0, depthMm: depthAt(points, fromS) },
    ...inside.map((p) => ({ seconds: p.seconds - fromS, depthMm: p.depthMm })),
    { seconds: DAY_S, depthMm: depthAt(points, toS) },
  ];
}

/** Depth at a time, on the straight line between the points about it. */
export function depthAt(points: readonly CoursePoint[], seconds: number): number {
  const next = points.findIndex((p) => p.seconds >= seconds);
  const b = points[next];
  const a = points[next - 1];
  if (!b) return points.at(-1)?.depthMm ?? 0;
  if (!a || b.seconds === a.seconds) return b.depthMm;
  return a.depthMm + ((b.depthMm - a.depthMm) * (seconds - a.seconds)) / (b.seconds - a.seconds);
}

/** Mean over the course of a function of depth, by trapezia. */
export function meanOver(points: readonly CoursePoint[], of: (depthMm: number) => number): number {
  let sum = 0;
  let span = 0;
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1];
    const b = points[i];
    if (!a || !b) continue;
    const seconds = b.seconds - a.seconds;
    sum += (seconds * (of(a.depthMm) + of(b.depthMm))) / 2;
    span += seconds;
  }
  return span > 0 ? sum / span : 0;
}

/** What a drain takes at a depth while the pump runs, L/min. */
export function outAtLMin(work: Work, depthMm: number, pulling: boolean): number {
  const { floodDepthMm, drain, dischargeCoefficient: cd } = work.zone;
  const { leak, emptying } = outletsOf(work.zone);
  switch (drain.kind) {
    case 'valve':
      return 0;
    case 'standpipe':
      return (
        outflowLMin(leak, depthMm) + overLipLMin(depthMm - floodDepthMm, drain.overflowBoreMm, cd)
      );
    case 'siphon':
      return pulling
        ? outflowLMin(emptying, depthMm)
        : overLipLMin(depthMm - floodDepthMm, drain.boreMm, cd);
    default:
      return drain satisfies never;
  }
}
