import { requireFinite, requireQuantity } from '../require';

/** Two measurements of one plant, `days` apart. */
export interface Growth {
  start: number;
  end: number;
  days: number;
}

/** Absolute growth rate (W₂ − W₁) / T: g per day from g (Hunt 1982, Plant Growth Curves). */
export function absoluteGrowthRate({ start, end, days }: Growth): number {
  requireFinite('absolute growth rate', 'start', start);
  requireFinite('absolute growth rate', 'end', end);
  requireQuantity('absolute growth rate', 'days', days);
  return (end - start) / days;
}

/**
 * Relative growth rate (ln W₂ − ln W₁) / T, per day (Fisher 1921; Hunt 1982). Refused where a mass
 * is not above 0: the plant has no relative growth.
 */
export function relativeGrowthRate({ start, end, days }: Growth): number {
  requireQuantity('relative growth rate', 'start', start);
  requireQuantity('relative growth rate', 'end', end);
  requireQuantity('relative growth rate', 'days', days);
  return Math.log(end / start) / days;
}

/**
 * Days in which the mass doubles, ln 2 / relative growth rate. Negative where the plant shrinks
 * (then the time to halve), Infinity where it stays as it is.
 */
export function doublingTimeDays(relativeGrowthRatePerDay: number): number {
  requireFinite('doubling time', 'relative growth rate', relativeGrowthRatePerDay);
  if (relativeGrowthRatePerDay === 0) return Infinity;
  return Math.LN2 / relativeGrowthRatePerDay;
}

/** Gain over the start, W₂ − W₁, in the measurement's unit: grams, leaves, shoots. */
export function gain({ start, end }: Pick<Growth, 'start' | 'end'>): number {
  requireFinite('gain', 'start', start);
  requireFinite('gain', 'end', end);
  return end - start;
}

/** Gain in per cent of the start, 100 (W₂/W₁ − 1). */
export function percentGain({ start, end }: Pick<Growth, 'start' | 'end'>): number {
  requireQuantity('per cent gain', 'start', start);
  requireFinite('per cent gain', 'end', end);
  return 100 * (end / start - 1);
}
