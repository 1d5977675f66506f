import { measurementTraits } from '../../../../shared-types/trial/measurement';
import { figuresOf } from './column';
import type { SlipSource } from './slip';
import type { Pot } from '../../../engine/geometry';

/** A run of values that stands in two places of one column, or in two columns of the same pots. */
export interface PastedTwice {
  /** Pots of the first and of the second place, side by side. */
  first: readonly Pot[];
  second: readonly Pot[];
  /** The column that the first place is in, where it is another. */
  otherColumn: SlipSource['measurement'] | null;
}

/** Chance of any run as long among values in no order, below which it is asked about. */
const RARE = 1e-4;
/** Fewer values than this are repeated by hand now and then. */
const SHORTEST = 5;

/**
 * The longest run of values that is repeated value by value, pot after pot in the order of the rack:
 * null where chance alone gives as long a run more often than once in ten thousand columns. The
 * chance that two values agree is taken from the column itself, so that counts need longer runs.
 */
export function pastedTwice({ measurement, pots, values, before }: SlipSource): PastedTwice | null {
  const column = figuresOf(pots, values);
  const agree = chanceToAgree(column);
  const found = repeatedRun(column, shortestRun(agree, column.length));
  if (found) {
    return {
      first: pots.slice(found.first, found.first + found.length),
      second: pots.slice(found.second, found.second + found.length),
      otherColumn: null,
    };
  }
  // A plant may well keep its number of leaves; two weights to a decimal are seldom the same.
  if (!before || measurementTraits[measurement.kind].whole) return null;
  const earlier = figuresOf(pots, before.values);
  const least = shortestAligned(agree, column.length);
  const run = alignedRun(column, earlier, least);
  if (!run) return null;
  const both = pots.slice(run.at, run.at + run.length);
  return { first: both, second: both, otherColumn: before.measurement };
}

/** NaN: no value. */
type Column = Float64Array;

function chanceToAgree(column: Column): number {
  const counts = new Map<number, number>();
  let n = 0;
  for (const value of column) {
    if (Number.isNaN(value)) continue;
    counts.set(value, (counts.get(value) ?? 0) + 1);
    n += 1;
  }
  if (n < 2) return 1;
  let pairs = 0;
  for (const count of counts.values()) pairs += count * (count - 1);
  return Math.max(pairs / (n * (n - 1)), 1 / n);
}

/** Runs in n²/2 pairs of places, each by a chance of agree^length. */
function shortestRun(agree: number, n: number): number {
  if (agree >= 1) return Infinity;
  return Math.max(SHORTEST, Math.ceil(Math.log(RARE / (n * n)) / Math.log(agree)));
}

function shortestAligned(agree: number, n: number): number {
  if (agree >= 1) return Infinity;
  return Math.max(SHORTEST, Math.ceil(Math.log(RARE / n) / Math.log(agree)));
}

interface Run {
  first: number;
  second: number;
  length: number;
}

/** The longest run of at least `least` values that stands twice without overlapping itself. */
function repeatedRun(column: Column, least: number): Run | null {
  if (!(least * 2 <= column.length)) return null;
  const keys = windowKeys(column, least);
  const seen = new Map<number, number>();
  let best: Run | null = null;
  keys.forEach((key, at) => {
    if (key === null) return;
    const first = seen.get(key);
    if (first === undefined) {
      seen.set(key, at);
      return;
    }
    // What follows within a run that is found already is its own tail.
    if (best && at < best.second + best.length) return;
    if (first + (best?.length ?? least) > at) return;
    const length = commonLength(column, first, at);
    if (length >= least && length > (best?.length ?? 0)) best = { first, second: at, length };
  });
  return best;
}

/** How many values from two places on are the same, up to where the second place begins. */
function commonLength(column: Column, first: number, second: number): number {
  let length = 0;
  while (first + length < second && second + length < column.length) {
    // NaN is not equal to itself.
    if (column[second + length] !== column[first + length]) break;
    length += 1;
  }
  return length;
}

/** A number a window of values, alike for like windows; null where one is missing or all are the same. */
function windowKeys(column: Column, length: number): (number | null)[] {
  const codes = new Map<number, number>();
  const coded = new Int32Array(column.length);
  column.forEach((value, at) => {
    if (Number.isNaN(value)) {
      coded[at] = -1;
      return;
    }
    const known = codes.get(value) ?? codes.size + 1;
    codes.set(value, known);
    coded[at] = known;
  });
  const keys: (number | null)[] = [];
  let [lastMissing, lastChange] = [-1, 0];
  let key = 0;
  let leading = 1;
  for (let i = 1; i < length; i++) leading = Math.imul(leading, BASE);
  coded.forEach((code, at) => {
    if (code < 0) lastMissing = at;
    if (at > 0 && code !== coded[at - 1]) lastChange = at;
    const gone = at >= length ? (coded[at - length] ?? 0) : 0;
    key = Math.imul(key - Math.imul(gone, leading), BASE) + code;
    key |= 0;
    const from = at - length + 1;
    if (from >= 0) keys.push(lastMissing >= from || lastChange <= from ? null : key);
  });
  return keys;
}

const BASE = 1_000_003;

/** The longest run of pots whose two values are the same. */
function alignedRun(
  column: Column,
  other: Column,
  least: number,
): { at: number; length: number } | null {
  let best: { at: number; length: number } | null = null;
  let from = 0;
  for (let at = 0; at <= column.length; at++) {
    if (at < column.length && column[at] === other[at]) continue;
    const length = at - from;
    if (length >= least && length > (best?.length ?? 0)) best = { at: from, length };
    from = at + 1;
  }
  return best;
}
