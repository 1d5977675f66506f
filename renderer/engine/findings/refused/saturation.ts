import type { Trial } from '../../../../shared-types/trial/trial';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import { tQuantileUpper } from '../../stats/distributions';
import { dateOf, daysBetween } from '../../calendar';
import { quantityOf, type FindingsInput } from '../question';

/** Growth of the same pots in two spans of time, the last before harvest and the one before it. */
export interface Slowing {
  measurement: Measurement;
  /** Mean gain a day with its interval. */
  before: { from: string; to: string; perDay: number };
  last: { from: string; to: string; perDay: number; lower: number; upper: number };
  pots: number;
  /** Growth had all but stopped: even the interval's upper end is below a tenth of the pace before. */
  stopped: boolean;
}

/** Pace, as a share of the pace before, below which growth counts as having stopped. */
export const STOPPED_SHARE = 0.1;

/**
 * Measurements of the same thing with dates, first to last: of one kind and unit, and of one
 * quantity (see `quantityOf`). One that is the only of its quantity belongs to it too, where
 * nothing else of that kind and unit was taken on its day or on that of `measurement`.
 */
export function seriesOf(trial: Trial, measurement: Measurement): Measurement[] {
  const like = trial.measurements.filter(
    (m) => m.kind === measurement.kind && m.unit === measurement.unit && dateOf(trial, m),
  );
  const alone = (m: Measurement) =>
    !like.some(
      (other) =>
        other !== m &&
        (quantityOf(other) === quantityOf(m) || dayOf(trial, other) === dayOf(trial, m)),
    );
  const onlyOfItsDay = !like.some(
    (m) => m.id !== measurement.id && dayOf(trial, m) === dayOf(trial, measurement),
  );
  return like
    .filter((m) => quantityOf(m) === quantityOf(measurement) || (onlyOfItsDay && alone(m)))
    .sort((a, b) => (dateOf(trial, a) ?? '').localeCompare(dateOf(trial, b) ?? ''));
}

const dayOf = (trial: Trial, m: Measurement) => `${m.timepoint} ${dateOf(trial, m) ?? ''}`;

/** Days from the day of a measurement to that on which the value of one pot was taken. */
export function daysLate(
  { trial, records }: Pick<FindingsInput, 'trial' | 'records'>,
  measurement: Measurement,
  potId: string,
): number {
  const taken = records.days?.[measurement.id]?.[potId];
  const planned = dateOf(trial, measurement);
  return taken !== undefined && planned !== null ? daysBetween(planned, taken) : 0;
}

/**
 * Whether growth slowed down before harvest, from pots measured at the last three dates; null
 * without an interim measurement between start and harvest, or with fewer than three such pots.
 */
export function slowingOf(
  input: Pick<FindingsInput, 'trial' | 'records'>,
  measurement: Measurement,
  confidence: number,
): Slowing | null {
  const { trial, records } = input;
  const [first, middle, end] = seriesOf(trial, measurement).slice(-3);
  if (!first || !middle || !end || end.id !== measurement.id) return null;
  const [from, between, to] = [first, middle, end].map((m) => dateOf(trial, m) ?? '');
  if (!from || !between || !to) return null;
  const early = daysBetween(from, between);
  const late = daysBetween(between, to);
  if (early <= 0 || late <= 0) return null;
  const gains: { before: number; last: number }[] = [];
  for (const [pot, final] of Object.entries(records.values[end.id] ?? {})) {
    const a = records.values[first.id]?.[pot];
    const b = records.values[middle.id]?.[pot];
    if (a === undefined || b === undefined || records.marks[pot]) continue;
    gains.push({ before: (b - a) / early, last: (final - b) / late });
  }
  const n = gains.length;
  if (n < 3) return null;
  const mean = (values: number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
  const before = mean(gains.map((g) => g.before));
  const last = mean(gains.map((g) => g.last));
  const variance = gains.reduce((sum, g) => sum + (g.last - last) ** 2, 0) / (n - 1);
  const half = tQuantileUpper((1 - confidence) / 2, n - 1) * Math.sqrt(variance / n);
  return {
    measurement,
    before: { from, to: between, perDay: before },
    last: { from: between, to, perDay: last, lower: last - half, upper: last + half },
    pots: n,
    stopped: before > 0 && last + half < STOPPED_SHARE * before,
  };
}
