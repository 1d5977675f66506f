import { entry } from '../../entry';
import type { Row } from './rows';

/** Two readings, each of which fits the other's place. */
export type Exchanged = readonly [readingId: string, otherId: string];

/** How far both must be off as they stand, and how near they must come once exchanged (ln of ratios). */
const LEAST_OFF = 0.1;
const MOST_LEFT = 0.06;
/** Another pair that fits less well than this many times the best leaves no doubt which it is. */
const CLEARLY = 1.5;

/**
 * Readings whose values or places look exchanged: one too high and one too low for the lamps by the
 * middle ratio of all, and both right once exchanged. Null where no pair would do, or several.
 */
export function exchangedAmong(rows: readonly Row[]): Exchanged | null {
  const logs = rows.map(({ reading, measured, estimated }) => ({
    id: reading.id,
    measured: Math.log(measured),
    estimated: Math.log(estimated),
  }));
  const usual = middleOf(logs.map(({ measured, estimated }) => measured - estimated));
  const off = (value: (typeof logs)[number], place = value) =>
    value.measured - place.estimated - usual;
  const high = logs.filter((one) => off(one) >= LEAST_OFF);
  const low = logs.filter((one) => off(one) <= -LEAST_OFF);
  const [best, second] = high
    .flatMap((a) =>
      low.map((b) => ({
        ids: [a.id, b.id] as const,
        left: Math.max(Math.abs(off(a, b)), Math.abs(off(b, a))),
      })),
    )
    .sort((a, b) => a.left - b.left);
  if (!best || best.left > MOST_LEFT) return null;
  return second && second.left < CLEARLY * best.left ? null : best.ids;
}

/** Of two their mean, which an exchange leaves as it is. */
function middleOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return sorted.length === 0
    ? 0
    : (entry(sorted, Math.ceil(half) - 1) + entry(sorted, Math.floor(half))) / 2;
}
