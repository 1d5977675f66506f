import type { FloodZone } from '../../../shared-types/flood';
import type { Basin } from './tray/basin';
import type { CoursePoint } from './tray/course';
import type { Work } from './tray/lip';
import { depthAt, outAtLMin, siphonStarts } from './working';
import { num } from '../entry';

/** Within this of the rim a tray runs over, mm. */
export const AT_RIM_MM = 1e-6;

/** What fills a zone's pipe, L: while the pump runs it is neither in the reservoir nor in a tray. */
export function pipeL({ pipe }: FloodZone): number {
  return ((Math.PI / 4) * pipe.boreMm ** 2 * pipe.lengthM) / 1000;
}

/** What a full reservoir can bring into trays, L: without its dead volume and the filled pipe. */
export function usableL(zone: FloodZone): number {
  return Math.max(0, zone.reservoirL - zone.deadVolumeL - pipeL(zone));
}

/** Litres in a basin by depth, as its courses take it: straight within each layer. */
export function litresIn(basin: Basin): (depthMm: number) => number {
  const below: number[] = [];
  let sum = 0;
  for (const { fromMm, toMm, areaM2 } of basin.layers) {
    below.push(sum);
    sum += areaM2 * (toMm - fromMm);
  }
  return (depthMm) => {
    let [low, high] = [0, basin.layers.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((basin.layers[middle]?.fromMm ?? Infinity) <= depthMm) low = middle;
      else high = middle - 1;
    }
    const layer = basin.layers[low];
    if (!layer) return 0;
    const over = Math.min(depthMm, layer.toMm) - layer.fromMm;
    return num(below, low) + layer.areaM2 * Math.max(0, over);
  };
}

/** Litres over the rim up to each point of a course with the pump on. */
export function spiltAlong(work: Work, points: readonly CoursePoint[]): number[] {
  const rimMm = work.basin.rimMm - AT_RIM_MM;
  const out = outAtLMin(work, work.basin.rimMm, siphonStarts(work) !== false);
  const netLMin = Math.max(0, work.inflowLMin - out);
  let sum = 0;
  return points.map((to, i) => {
    const from = points[i - 1];
    if (from && from.depthMm >= rimMm && to.depthMm >= rimMm) {
      sum += (netLMin * (to.seconds - from.seconds)) / 60;
    }
    return sum;
  });
}

/** Litres that a tray has taken out of the reservoir, over time; straight between the points. */
export type WaterTaken = readonly { seconds: number; litres: number }[];

/**
 * Seconds after which the trays together have taken all that is left in the reservoir; null where
 * it lasts. They give the litres that each has taken since the same beginning.
 */
export function emptiedAfterS(taken: readonly WaterTaken[], leftL: number): number | null {
  const times = [...new Set(taken.flatMap((one) => one.map((p) => p.seconds)))].sort(
    (a, b) => a - b,
  );
  const at = taken.map(() => 0);
  const litresAt = (seconds: number) =>
    taken.reduce((sum, one, i) => {
      let k = num(at, i);
      while (k < one.length - 1 && (one[k + 1]?.seconds ?? 0) <= seconds) k += 1;
      at[i] = k;
      const [a, b] = [one[k], one[k + 1]];
      if (!a) return sum;
      if (!b || seconds <= a.seconds) return sum + a.litres;
      const share = (seconds - a.seconds) / (b.seconds - a.seconds);
      return sum + a.litres + share * (b.litres - a.litres);
    }, 0);
  let before = { seconds: 0, litres: 0 };
  for (const seconds of times) {
    const litres = litresAt(seconds);
    if (litres > leftL + 1e-9) {
      const share = Math.max(0, leftL - before.litres) / (litres - before.litres);
      return before.seconds + share * (seconds - before.seconds);
    }
    before = { seconds, litres };
  }
  return null;
}

/** The part of a course up to a time. */
export function upTo(points: readonly CoursePoint[], seconds: number): CoursePoint[] {
  return [
    ...points.filter((p) => p.seconds < seconds),
    { seconds, depthMm: depthAt(points, seconds) },
  ];
}
