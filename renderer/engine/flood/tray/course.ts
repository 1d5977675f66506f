import type { Basin } from './basin';
import { restingDepthMm, secondsBetween } from './level';
import { SHUT, type Outlet } from './outlet';

/** The water's depth over time: straight lines between these points are close to the true course. */
export interface CoursePoint {
  seconds: number;
  depthMm: number;
}

/** How the water went: from where it began to where it was told to go, or to where it came. */
export interface Course {
  points: CoursePoint[];
  arrived: boolean;
  seconds: number;
  depthMm: number;
}

/** A course has a point every so many millimetres, but no more of them than a picture can show. */
const POINT_EVERY_MM = 2;
const MOST_POINTS = 60;
/** On the way to rest, which slows ever more, there are points here; the last thousandth takes for ever. */
const WAY_LEFT = [0.7, 0.4, 0.2, 0.08, 0.02, 0.001];

/**
 * Lets the water in a basin rise or fall from one depth to another, layer by layer in closed form.
 * It stops at `toMm`, when `mostSeconds` are over, or where inflow and outlet balance; in the last
 * case the course ends as close as the time allows, or at once at that depth where time is endless.
 */
export function runTo(
  basin: Basin,
  inflowLMin: number,
  through: Outlet,
  fromMm: number,
  toMm: number,
  mostSeconds = Infinity,
): Course {
  const points: CoursePoint[] = [{ seconds: 0, depthMm: fromMm }];
  const up = toMm > fromMm;
  let seconds = 0;
  let depth = fromMm;
  const end = (arrived: boolean): Course => ({ points, arrived, seconds, depthMm: depth });
  for (const stop of stopsBetween(basin, fromMm, toMm)) {
    const area = areaBetween(basin, depth, stop);
    // Below the drain's foot nothing runs out.
    const outlet = Math.max(depth, stop) <= 0 && through.dropMm === 0 ? SHUT : through;
    let goal = stop;
    let took = secondsBetween(area, inflowLMin, outlet, depth, goal);
    if (took === null) {
      const rest = restingDepthMm(inflowLMin, outlet);
      const towards =
        rest !== null && (up ? rest > depth && rest <= goal : rest < depth && rest >= goal);
      if (!towards) {
        if (Number.isFinite(mostSeconds)) seconds = mostSeconds;
        points.push({ seconds, depthMm: depth });
        return end(false);
      }
      const from = depth;
      for (const left of WAY_LEFT) {
        goal = rest + (from - rest) * left;
        took = secondsBetween(area, inflowLMin, outlet, depth, goal);
        if (took === null || seconds + took > mostSeconds) break;
        seconds += took;
        depth = goal;
        points.push({ seconds, depthMm: depth });
      }
      if (took === null || depth === goal) {
        if (Number.isFinite(mostSeconds)) seconds = mostSeconds;
        depth = rest;
        points.push({ seconds, depthMm: depth });
        return end(false);
      }
    }
    if (seconds + took > mostSeconds) {
      const left = mostSeconds - seconds;
      depth = depthAfter(area, inflowLMin, outlet, depth, goal, left);
      seconds = mostSeconds;
      points.push({ seconds, depthMm: depth });
      return end(false);
    }
    seconds += took;
    depth = goal;
    points.push({ seconds, depthMm: depth });
  }
  return end(true);
}

/** Adds a course to one before it. */
export function follow(before: CoursePoint[], after: readonly CoursePoint[]): void {
  const start = before.at(-1)?.seconds ?? 0;
  for (const point of after) {
    before.push({ seconds: start + point.seconds, depthMm: point.depthMm });
  }
}

function stopsBetween(basin: Basin, fromMm: number, toMm: number): number[] {
  const low = Math.min(fromMm, toMm);
  const high = Math.max(fromMm, toMm);
  const stops = new Set<number>([toMm]);
  for (const layer of basin.layers) {
    for (const edge of [layer.fromMm, layer.toMm]) if (edge > low && edge < high) stops.add(edge);
  }
  if (low < 0 && high > 0) stops.add(0);
  const pieces = Math.min(MOST_POINTS, Math.ceil((high - low) / POINT_EVERY_MM));
  for (let i = 1; i < pieces; i++) stops.add(low + ((high - low) * i) / pieces);
  return [...stops].sort((a, b) => (toMm > fromMm ? a - b : b - a));
}

function areaBetween(basin: Basin, a: number, b: number): number {
  const middle = (a + b) / 2;
  const layer =
    basin.layers.find((l) => middle >= l.fromMm && middle <= l.toMm) ?? basin.layers.at(-1);
  return layer?.areaM2 ?? 0;
}

/** Depth after a time that is too short to reach `towardsMm`, by bisection. */
function depthAfter(
  areaM2: number,
  inflowLMin: number,
  through: Outlet,
  fromMm: number,
  towardsMm: number,
  seconds: number,
): number {
  let near = fromMm;
  let far = towardsMm;
  for (let i = 0; i < 60; i++) {
    const middle = (near + far) / 2;
    const took = secondsBetween(areaM2, inflowLMin, through, fromMm, middle);
    if (took !== null && took < seconds) near = middle;
    else far = middle;
  }
  return near;
}
