import type { DeliveredMeasure } from '../../../shared-types/delivered';
import { toleranceOf } from './tolerance';

/** One figure of a unit, on an ISO date. */
export interface DatedFigure {
  date: string;
  value: number;
}

/** What a unit should have; `plusMinus`: half the 95 % interval of it, in the same unit. */
export interface Setting {
  value: number;
  plusMinus: number;
}

/** Figures that stayed off on one side, the longest time that they did. */
export interface Drift {
  days: number;
  from: string;
  to: string;
  /** Means over these days. */
  mean: number;
  expected: number;
  /** The most that a single difference could be without counting as off. */
  allowed: number;
}

/**
 * So many logged days in a row, all off on the same side, are a drift. Where errors exceed the
 * tolerance 5 times of 100, half of them on either side, chance alone makes three in a row about once
 * in 60,000 starts (0.025³); a single odd reading never does.
 */
export const DAYS_IN_A_ROW = 3;

interface Compared extends DatedFigure {
  expected: number;
  allowed: number;
}

/** Figures that stayed away from what is set; null: no drift. They need no order. */
export function driftFromSetting(
  measure: DeliveredMeasure,
  figures: readonly DatedFigure[],
  { value, plusMinus }: Setting,
): Drift | null {
  const allowed = Math.hypot(toleranceOf(measure, value), plusMinus);
  return longestOff(figures.map((one) => ({ ...one, expected: value, allowed })));
}

/**
 * Two units that should be alike and stayed apart on the days that both were logged; `mean` is of
 * `figures`, `expected` of `others`. Both carry an error, so √2 times the tolerance is allowed, and
 * `apart` besides, by which their settings differ.
 */
export function driftBetween(
  measure: DeliveredMeasure,
  figures: readonly DatedFigure[],
  others: readonly DatedFigure[],
  apart = 0,
): Drift | null {
  const byDate = new Map(others.map(({ date, value }) => [date, value]));
  return longestOff(
    figures.flatMap((one) => {
      const expected = byDate.get(one.date);
      if (expected === undefined) return [];
      const allowed = apart + Math.SQRT2 * toleranceOf(measure, (one.value + expected) / 2);
      return [{ ...one, expected, allowed }];
    }),
  );
}

function longestOff(figures: readonly Compared[]): Drift | null {
  const inOrder = [...figures].sort((a, b) => (a.date < b.date ? -1 : 1));
  let longest: Compared[] = [];
  let standing: Compared[] = [];
  let side = 0;
  for (const one of inOrder) {
    const now = sideOf(one);
    standing = now !== 0 && now === side ? [...standing, one] : now === 0 ? [] : [one];
    side = now;
    if (standing.length > longest.length) longest = standing;
  }
  const [first, last] = [longest[0], longest.at(-1)];
  if (!first || !last || longest.length < DAYS_IN_A_ROW) return null;
  return {
    days: longest.length,
    from: first.date,
    to: last.date,
    mean: meanOf(longest.map(({ value }) => value)),
    expected: meanOf(longest.map(({ expected }) => expected)),
    allowed: Math.max(...longest.map(({ allowed }) => allowed)),
  };
}

// Figures are typed in decimals: a difference as large as allowed must not count for its rounding.
const ROUNDING = 1e-9;

function sideOf({ value, expected, allowed }: Compared): -1 | 0 | 1 {
  const off = value - expected;
  if (Math.abs(off) <= allowed + ROUNDING) return 0;
  return off > 0 ? 1 : -1;
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
