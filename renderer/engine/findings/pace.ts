import type { Measurement } from '../../../shared-types/trial/measurement';
import { figures, said, sayDay } from '../../words';
import { dateOf, daysBetween } from '../calendar';
import { tQuantileUpper } from '../stats/distributions';
import type { FindingsInput } from './question';
import { daysLate, seriesOf, STOPPED_SHARE } from './refused/saturation';

/** Growth of the pots that were measured at both ends of a span of time. */
export interface Span {
  from: string;
  to: string;
  /** Mean gain a day, with its interval; in the unit of the measurement. */
  perDay: number;
  lower: number;
  upper: number;
  pots: number;
}

export interface Pace {
  measurement: Measurement;
  spans: Span[];
  /** First day of the spans, to the last, that were all slower than half the fastest before them. */
  slowedFrom: string | null;
  /** The same with a tenth: growth had all but stopped. */
  stoppedFrom: string | null;
  /** Day from which treatments stood apart no more clearly; null where that was the last day. */
  toldFrom: { date: string; apart: number; atLast: number } | null;
}

const SLOWED_SHARE = 0.5;
/** A ratio that rises by less tells no more: it is known no better than that. */
const NO_MORE = 1.1;

type Recorded = Pick<FindingsInput, 'trial' | 'records' | 'layout'>;

/**
 * How fast pots grew from date to date, over all treatments; null with fewer than three dates. A
 * pace counts as slower only where its whole interval is: each span by the t interval of the plants'
 * own gains a day.
 */
export function paceOf(input: Recorded, measurement: Measurement, confidence: number): Pace | null {
  const taken = seriesOf(input.trial, measurement).filter(
    (m) => Object.keys(input.records.values[m.id] ?? {}).length > 0,
  );
  const spans = taken.slice(1).flatMap((to, i) => {
    const from = taken[i];
    return (from && spanOf(input, from, to, confidence)) ?? [];
  });
  if (spans.length < 2 || spans.length < taken.length - 1) return null;
  return {
    measurement,
    spans,
    slowedFrom: slowerFrom(spans, SLOWED_SHARE),
    stoppedFrom: slowerFrom(spans, STOPPED_SHARE),
    toldFrom: toldFrom(input, taken),
  };
}

function spanOf(
  { trial, records }: Recorded,
  from: Measurement,
  to: Measurement,
  confidence: number,
): Span | null {
  const [start, end] = [dateOf(trial, from), dateOf(trial, to)];
  const days = start && end ? daysBetween(start, end) : 0;
  if (!start || !end || days <= 0) return null;
  const gains = Object.entries(records.values[to.id] ?? {}).flatMap(([pot, value]) => {
    const before = records.values[from.id]?.[pot];
    if (before === undefined || records.marks[pot]) return [];
    const late = (m: Measurement) => daysLate({ trial, records }, m, pot);
    const own = days + late(to) - late(from);
    return own > 0 ? [(value - before) / own] : [];
  });
  const n = gains.length;
  if (n < 3) return null;
  const perDay = mean(gains);
  const variance = gains.reduce((sum, g) => sum + (g - perDay) ** 2, 0) / (n - 1);
  const half = tQuantileUpper((1 - confidence) / 2, n - 1) * Math.sqrt(variance / n);
  return { from: start, to: end, perDay, lower: perDay - half, upper: perDay + half, pots: n };
}

function slowerFrom(spans: readonly Span[], share: number): string | null {
  const at = spans.findIndex((_, k) => {
    const fastest = Math.max(...spans.slice(0, k).map(({ perDay }) => perDay));
    return k > 0 && fastest > 0 && spans.slice(k).every(({ upper }) => upper < share * fastest);
  });
  return spans[at]?.from ?? null;
}

/** From which day on treatments stood apart no more clearly, against the spread of their pots. */
function toldFrom(input: Recorded, taken: readonly Measurement[]): Pace['toldFrom'] {
  const apart = taken.map((m) => apartOf(input, m));
  const known = apart.filter((value) => value !== null);
  const last = known.at(-1);
  if (known.length < taken.length || last === undefined) return null;
  const at = known.findIndex((value, i) => {
    return value > 0 && known.slice(i + 1).every((later) => later <= NO_MORE * value);
  });
  const [measurement, value] = [taken[at], known[at]];
  const date = measurement && dateOf(input.trial, measurement);
  if (!date || value === undefined || at === known.length - 1) return null;
  return { date, apart: value, atLast: last };
}

/** Standard deviation of the treatments' means over that of pots within them; null without both. */
function apartOf({ records, layout }: Recorded, m: Measurement): number | null {
  const groups = new Map<string, number[]>();
  for (const { potId, levels } of layout?.assignments ?? []) {
    const value = records.values[m.id]?.[potId];
    if (value === undefined || records.marks[potId]) continue;
    const key = JSON.stringify(levels);
    groups.set(key, [...(groups.get(key) ?? []), value]);
  }
  const all = [...groups.values()];
  const n = all.reduce((sum, own) => sum + own.length, 0);
  if (all.length < 2 || n <= all.length) return null;
  const means = all.map(mean);
  const within = all.reduce(
    (sum, own, i) => sum + own.reduce((s, v) => s + (v - (means[i] ?? 0)) ** 2, 0),
    0,
  );
  const middle = mean(means);
  const between = means.reduce((sum, v) => sum + (v - middle) ** 2, 0) / (means.length - 1);
  return within > 0 ? Math.sqrt(between / (within / (n - all.length))) : null;
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Whether and when growth slowed, and from when waiting told no more; a sentence each. */
export function paceWords(pace: Pace): string[] {
  const unit = `${pace.measurement.unit} a day`;
  const last = pace.spans.at(-1);
  const fastest = Math.max(...pace.spans.map(({ perDay }) => perDay));
  if (!last) return [];
  const figuresOf = `${said(last.perDay, unit)} in the last span (${figures(last.lower)} to ${figures(last.upper)}), ${said(fastest, '')} at its fastest`;
  const { stoppedFrom, slowedFrom, toldFrom } = pace;
  const growth =
    stoppedFrom !== null
      ? `Growth had all but stopped from ${stoppedFrom} on: ${figuresOf}.`
      : slowedFrom !== null
        ? `Growth slowed from ${slowedFrom} on: ${figuresOf}.`
        : `Growth had not clearly slowed by the end: ${figuresOf}.`;
  const why =
    (stoppedFrom ?? slowedFrom) === null
      ? []
      : ['A full tray and full-grown plants look alike in this: see what the tray looked like.'];
  const told = toldFrom
    ? [
        `From ${sayDay(toldFrom.date)} on waiting told no more: treatments stood ${figures(toldFrom.apart, 2)} times the spread of their pots apart then, ${figures(toldFrom.atLast, 2)} times at the end.`,
      ]
    : [];
  return [growth, ...why, ...told];
}
