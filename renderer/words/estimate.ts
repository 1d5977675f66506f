import { figures, fixed } from './numbers';

const MOST_DECIMALS = 8;

/**
 * Decimals for an estimate and both ends of its interval: two digits of the interval's width count,
 * for more than that tells of chance. null: too wide or narrow for decimals.
 */
export function intervalDecimals(lower: number, upper: number): number | null {
  const width = upper - lower;
  if (!(width >= 1e-7) || !(width < 1e9)) return null;
  // 0.0996 is told as 0.10: rounding may reach the next power of ten.
  const size = Math.floor(Math.log10(Number(width.toPrecision(2))));
  return Math.min(MOST_DECIMALS, Math.max(0, 1 - size));
}

/** Says each of several values with the decimals that an interval asks for. */
export function asInterval(lower: number, upper: number): (value: number) => string {
  const decimals = intervalDecimals(lower, upper);
  return (value) => (decimals === null ? figures(value) : fixed(value, decimals));
}

/** Says values of one kind, each with an interval, all with the decimals that the narrowest asks for. */
export function asIntervals(
  intervals: readonly (readonly [lower: number, upper: number])[],
): (value: number) => string {
  const decimals = intervals.map(([lower, upper]) => intervalDecimals(lower, upper) ?? -1);
  const most = Math.max(-1, ...decimals);
  return (value) => (most < 0 ? figures(value) : fixed(value, most));
}

/** An interval's ends in like decimals: `7.8 to 12.6 g`. */
export function saidRange(lower: number, upper: number, unit = ''): string {
  const say = asInterval(lower, upper);
  return withUnit(`${say(lower)} to ${say(upper)}`, unit);
}

/** An estimate with its interval, all in like decimals: `10.2 g (7.8 to 12.6)`. */
export function formatEstimate(estimate: number, lower: number, upper: number, unit = ''): string {
  const say = asInterval(lower, upper);
  return `${withUnit(say(estimate), unit)} (${say(lower)} to ${say(upper)})`;
}

/** An estimate and its standard error with the decimals of about a 95 % interval: `0.071`, `0.002`. */
export function asStandardError(se: number): (value: number) => string {
  return asInterval(-2 * se, 2 * se);
}

function withUnit(text: string, unit: string): string {
  return unit ? `${text} ${unit}` : text;
}
