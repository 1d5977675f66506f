import type { RowResponse } from './response';
import { add, num, real } from '../../entry';

// From a rounded-off minimum to nearly the minimum itself.
const SHARPNESS = [40, 160, 640];
const STEPS_MM = [64, 32, 16, 8, 4, 2, 1];
const MOST_PASSES = 12;
const FACTORS = [1.3, 1.15, 1.07, 1.03, 1.015, 1.005];
// A row dimmer than this might as well be taken down.
const DIMMEST = 0.2;

/** −1/k · ln of the mean of exp(−k v/mean): the least of v/mean, rounded off; higher is better. */
function roundedMinToMean(values: Float64Array, sharpness: number): number {
  let sum = 0;
  let least = Infinity;
  for (const value of values) {
    sum += value;
    if (value < least) least = value;
  }
  const mean = sum / values.length;
  if (!(mean > 0)) return -1;
  let total = 0;
  for (const value of values) total += Math.exp((-sharpness * (value - least)) / mean);
  return least / mean - Math.log(total / values.length) / sharpness;
}

/**
 * Places of rows (mm, rising) that light the points most evenly: pattern search with ever smaller
 * steps, one row at a time and all together (shift, stretch), from each start. Rows keep
 * `apartMm` from each other and stay within from–to, and shine at their `shares` of full output
 * (all of it unless given). Nothing is mirrored on purpose.
 */
export function searchPlaces(
  response: RowResponse,
  starts: readonly (readonly number[])[],
  limits: { fromMm: number; toMm: number; apartMm: number },
  shares?: readonly number[],
): number[] {
  let best: number[] = [];
  let bestScore = -Infinity;
  for (const start of starts) {
    const found = descend(response, start, limits, shares);
    const score = roundedMinToMean(total(response, found, shares), 1e4);
    if (score > bestScore) {
      best = found;
      bestScore = score;
    }
  }
  return best;
}

/**
 * Shares of full output (the brightest row 1, none under `DIMMEST`) at which rows in these places
 * light the points most evenly: pattern search by ever smaller factors.
 */
export function searchShares(response: RowResponse, places: readonly number[]): number[] {
  let here = places.map(() => 1);
  for (const sharpness of SHARPNESS) {
    let score = roundedMinToMean(total(response, places, here), sharpness);
    for (const factor of FACTORS) {
      for (let pass = 0; pass < MOST_PASSES; pass++) {
        let moved = false;
        for (let i = 0; i < here.length; i++) {
          for (const by of [factor, 1 / factor]) {
            const next = brightestAtOne(here.map((share, k) => (k === i ? share * by : share)));
            if (Math.min(...next) < DIMMEST) continue;
            const found = roundedMinToMean(total(response, places, next), sharpness);
            if (found <= score + 1e-9) continue;
            here = next;
            score = found;
            moved = true;
          }
        }
        if (!moved) break;
      }
    }
  }
  return here;
}

function brightestAtOne(shares: readonly number[]): number[] {
  const brightest = Math.max(...shares);
  return shares.map((share) => share / brightest);
}

function total(
  response: RowResponse,
  places: readonly number[],
  shares?: readonly number[],
): Float64Array {
  let sum: Float64Array | null = null;
  places.forEach((place, row) => {
    const part = response(place);
    const share = shares?.[row] ?? 1;
    sum ??= new Float64Array(part.length);
    for (let i = 0; i < part.length; i++) add(sum, i, share * real(part, i));
  });
  return sum ?? new Float64Array(0);
}

function allowed(
  places: readonly number[],
  limits: { fromMm: number; toMm: number; apartMm: number },
): boolean {
  // Places come from sums of steps: a hair over the limit is rounding.
  const hair = 1e-6;
  return places.every(
    (place, i) =>
      place >= limits.fromMm - hair &&
      place <= limits.toMm + hair &&
      (i === 0 || place - num(places, i - 1) >= limits.apartMm - hair),
  );
}

function neighbours(places: readonly number[], step: number): number[][] {
  const middle = places.reduce((sum, place) => sum + place, 0) / places.length;
  const reach = Math.max(1, ...places.map((place) => Math.abs(place - middle)));
  const list: number[][] = [];
  for (const move of [step, -step]) {
    places.forEach((_, i) => list.push(places.map((p, k) => (k === i ? p + move : p))));
    if (places.length > 1) {
      list.push(places.map((place) => place + move));
      list.push(places.map((place) => place + (move * (place - middle)) / reach));
    }
  }
  return list;
}

function descend(
  response: RowResponse,
  start: readonly number[],
  limits: { fromMm: number; toMm: number; apartMm: number },
  shares: readonly number[] | undefined,
): number[] {
  let here = [...start];
  for (const sharpness of SHARPNESS) {
    let score = roundedMinToMean(total(response, here, shares), sharpness);
    for (const step of STEPS_MM) {
      for (let pass = 0; pass < MOST_PASSES; pass++) {
        let moved = false;
        for (const next of neighbours(here, step)) {
          if (!allowed(next, limits)) continue;
          const found = roundedMinToMean(total(response, next, shares), sharpness);
          if (found > score + 1e-9) {
            here = next;
            score = found;
            moved = true;
            break;
          }
        }
        if (!moved) break;
      }
    }
  }
  return here;
}
