import seedrandom from 'seedrandom';
import type { RandomisationPlan } from './plan';
import type { RandomisationStatistic } from './types';
import { whole } from '../../entry';

/** The most arrangements that are listed one by one. */
export const MOST_ARRANGEMENTS = 5_000_000;

/** Share of F within which two arrangements count as equally extreme. */
const TIE = 1e-9;
/** An F below this is nought: what is left of means that are the same is rounding. */
const NOUGHT = 1e-12;

/** The least statistic that counts as extreme as the observed one. */
export const leastAsExtreme = (observed: number): number => observed * (1 - TIE) - NOUGHT;

export interface LayoutCount {
  readonly observed: number;
  readonly runs: number;
  readonly asExtreme: number;
}

export interface AllCount extends LayoutCount {
  /** How many give the largest F of all: relabelled alike, they are the fewest there can be. */
  readonly largest: number;
}

/** In how many ways the labels can lie: the product over groups of n! / (n₁! n₂! …). */
export function countArrangements(plan: RandomisationPlan): number {
  let count = 1;
  for (const units of plan.groups) {
    const held = new Map<number, number>();
    let placed = 0;
    for (const unit of units) {
      const label = whole(plan.observed, unit);
      const times = (held.get(label) ?? 0) + 1;
      held.set(label, times);
      placed++;
      count = (count * placed) / times;
    }
  }
  return Math.round(count);
}

function observedF(plan: RandomisationPlan, statistic: RandomisationStatistic): number {
  const sums = new Float64Array(statistic.size);
  plan.observed.forEach((label, unit) => statistic.addUnit(sums, unit, label));
  return statistic.f(sums);
}

/** Every arrangement once. */
export function drawAll(plan: RandomisationPlan, statistic: RandomisationStatistic): AllCount {
  const observed = observedF(plan, statistic);
  const least = leastAsExtreme(observed);
  const groups = plan.groups.filter((units) => units.length > 0);
  const layers = Array.from({ length: groups.length + 1 }, () => new Float64Array(statistic.size));
  let runs = 0;
  let asExtreme = 0;
  let most = -Infinity;
  let largest = 0;
  const descend = (depth: number): void => {
    const units = groups[depth];
    const base = layers[depth];
    const next = layers[depth + 1];
    if (!base) return;
    if (!units || !next) {
      runs++;
      const f = statistic.f(base);
      if (f >= least) asExtreme++;
      if (f > most * (1 + TIE)) {
        most = f;
        largest = 1;
      } else if (f >= most * (1 - TIE)) largest++;
      return;
    }
    const labels = Int32Array.from(units, (unit) => whole(plan.observed, unit)).sort();
    do {
      next.set(base);
      for (let i = 0; i < units.length; i++) {
        statistic.addUnit(next, whole(units, i), whole(labels, i));
      }
      descend(depth + 1);
    } while (nextArrangement(labels));
  };
  descend(0);
  return { observed, runs, asExtreme, largest };
}

/** Random arrangements, each equally likely; the same seed gives the same ones. */
export function drawRandom(
  plan: RandomisationPlan,
  statistic: RandomisationStatistic,
  runs: number,
  seed: string,
): LayoutCount {
  const observed = observedF(plan, statistic);
  const least = leastAsExtreme(observed);
  const next = shuffles(plan, seed);
  const sums = new Float64Array(statistic.size);
  const add = (unit: number, label: number): void => statistic.addUnit(sums, unit, label);
  let asExtreme = 0;
  for (let run = 0; run < runs; run++) {
    sums.fill(0);
    next(add);
    if (statistic.f(sums) >= least) asExtreme++;
  }
  return { observed, runs, asExtreme };
}

/** The random numbers of a seed from the first on, 0 to less than 1, one a call. */
export type Numbers = (seed: string) => () => number;

/** 32 bits a number: a choice among a thousand units is uneven by less than a millionth. */
const fresh: Numbers = (seed) => seedrandom(seed).quick;

/** The same, each drawn once however often its seed is asked for. */
export function keptNumbers(): Numbers {
  const known = new Map<string, { random: () => number; drawn: number[] }>();
  return (seed) => {
    const own = known.get(seed) ?? { random: fresh(seed), drawn: [] };
    known.set(seed, own);
    const { random, drawn } = own;
    let at = 0;
    return () => {
      if (at === drawn.length) drawn.push(random());
      return drawn[at++] ?? NaN;
    };
  };
}

/**
 * One random arrangement after the other: tells the label of each unit, one after the other. The same
 * seed gives the same ones.
 */
export function shuffles(
  plan: RandomisationPlan,
  seed: string,
  numbers: Numbers = fresh,
): (tell: (unit: number, label: number) => void) => void {
  const random = numbers(`redraw ${seed}`);
  const labels = plan.observed.slice();
  return (tell) => {
    for (const units of plan.groups) {
      for (let i = units.length - 1; i >= 0; i--) {
        const unit = whole(units, i);
        const other = whole(units, Math.floor(random() * (i + 1)));
        const label = whole(labels, other);
        labels[other] = whole(labels, unit);
        labels[unit] = label;
        tell(unit, label);
      }
    }
  };
}

/** Moves to the next arrangement in lexicographic order; false after the last one. */
function nextArrangement(labels: Int32Array): boolean {
  const get = (i: number): number => whole(labels, i);
  let i = labels.length - 2;
  while (i >= 0 && get(i) >= get(i + 1)) i--;
  if (i < 0) return false;
  let j = labels.length - 1;
  while (get(j) <= get(i)) j--;
  const pivot = get(i);
  labels[i] = get(j);
  labels[j] = pivot;
  labels.subarray(i + 1).reverse();
  return true;
}
