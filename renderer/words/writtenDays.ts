/** Which of two numbers comes first in `03/04/2026`. */
export type DayOrder = 'day-first' | 'month-first';

/** A day as written: one reading, or two that the order of its numbers decides. */
export type WrittenDay =
  | { kind: 'one'; day: string }
  | { kind: 'two'; byOrder: Record<DayOrder, string> }
  | { kind: 'none' };

// English and German names, by what tells them apart.
const MONTHS = [
  ['jan', 'jän'],
  ['feb'],
  ['mar', 'mär', 'mrz'],
  ['apr'],
  ['may', 'mai'],
  ['jun'],
  ['jul'],
  ['aug'],
  ['sep'],
  ['oct', 'okt'],
  ['nov'],
  ['dec', 'dez'],
];

const TIME =
  /[T\s,]+\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[ap]\.?m\.?|z|uhr|utc|[+-]\d{2}:?\d{2})?$/i;
const ISO = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/;
const DOTTED = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})$/;
const SLASHED = /^(\d{1,2})([/-])(\d{1,2})\2(\d{4}|\d{2})$/;
const DAY_MONTH = /^(\d{1,2})\.?[\s-]+(\p{L}{3,})\.?[\s-]+(\d{4}|\d{2})$/u;
const MONTH_DAY = /^(\p{L}{3,})\.?\s+(\d{1,2}),?\s+(\d{4})$/u;

const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function isoOf(year: number, month: number, day: number): string | null {
  const whole = year < 100 ? 2000 + year : year;
  const leap = whole % 4 === 0 && (whole % 100 !== 0 || whole % 400 === 0);
  const days = month === 2 && leap ? 29 : (DAYS_IN_MONTH[month - 1] ?? 0);
  if (day < 1 || day > days) return null;
  return [whole, month, day].map((part) => String(part).padStart(2, '0')).join('-');
}

const monthNamed = (name: string): number =>
  MONTHS.findIndex((starts) => starts.some((start) => name.toLowerCase().startsWith(start))) + 1;

/**
 * The day in a cell, in the usual forms: ISO 8601, `31.03.2026`, `31/03/2026`, `3/31/2026`,
 * `31 March 2026`, `March 31, 2026`; a time of day behind it is passed over. Two digits of a year
 * are of this century.
 */
export function readDay(text: string): WrittenDay {
  const written = text.trim().replace(TIME, '');
  const one = (day: string | null): WrittenDay =>
    day === null ? { kind: 'none' } : { kind: 'one', day };
  const iso = ISO.exec(written);
  if (iso) return one(isoOf(Number(iso[1]), Number(iso[2]), Number(iso[3])));
  const dotted = DOTTED.exec(written);
  if (dotted) return one(isoOf(Number(dotted[3]), Number(dotted[2]), Number(dotted[1])));
  const named = DAY_MONTH.exec(written);
  if (named) return one(isoOf(Number(named[3]), monthNamed(named[2] ?? ''), Number(named[1])));
  const american = MONTH_DAY.exec(written);
  if (american) {
    return one(isoOf(Number(american[3]), monthNamed(american[1] ?? ''), Number(american[2])));
  }
  const slashed = SLASHED.exec(written);
  if (!slashed) return { kind: 'none' };
  const [first, second, year] = [Number(slashed[1]), Number(slashed[3]), Number(slashed[4])];
  const dayFirst = isoOf(year, second, first);
  const monthFirst = isoOf(year, first, second);
  if (dayFirst === null || monthFirst === null || dayFirst === monthFirst) {
    return one(dayFirst ?? monthFirst);
  }
  return { kind: 'two', byOrder: { 'day-first': dayFirst, 'month-first': monthFirst } };
}

/**
 * Which order the days of a column are written in: what one of them proves, else the only order in
 * which one of them is a day that is `expected`; null: nothing tells, and it matters.
 */
export function dayOrder(
  texts: readonly string[],
  expected: ReadonlySet<string>,
): DayOrder | 'either' | null {
  const slashed = texts.map((text) => SLASHED.exec(text.trim().replace(TIME, '')));
  if (slashed.some((parts) => parts && Number(parts[1]) > 12)) return 'day-first';
  if (slashed.some((parts) => parts && Number(parts[3]) > 12)) return 'month-first';
  const open = texts.map(readDay).flatMap((day) => (day.kind === 'two' ? [day.byOrder] : []));
  if (open.length === 0) return 'either';
  const orders = (['day-first', 'month-first'] as const).filter((order) =>
    open.some((byOrder) => expected.has(byOrder[order])),
  );
  return orders.length === 1 ? (orders[0] ?? null) : null;
}

/** The day in a cell, by the order of its column; null: it holds none. */
export function dayIn(text: string, order: DayOrder): string | null {
  const day = readDay(text);
  switch (day.kind) {
    case 'one':
      return day.day;
    case 'two':
      return day.byOrder[order];
    case 'none':
      return null;
  }
}
