import seedrandom from 'seedrandom';
import { whole } from '../entry';
import { Refusal } from '../../words';

/**
 * One named stream of random numbers. Streams of one seed with different labels are independent,
 * so what one part of the rack draws never depends on how much another part drew.
 */
export interface Stream {
  /** Uniform on [0, 1), 32 bits. */
  fraction(): number;
  /** Uniform whole number 0 … below − 1; `below` up to 2³². */
  integer(below: number): number;
  /** Standard normal deviate (polar method, Marsaglia & Bray 1964). */
  normal(): number;
}

const SPAN = 4_294_967_296;
// A character that no label or seed typed by a person holds, so that seed and label cannot run
// into each other.
const BETWEEN = '\u001f';

/** The stream called `label` of a text seed: same seed and label, same numbers on any machine. */
export function stream(seed: string, label: string): Stream {
  if (seed === '')
    throw new Refusal('seed: an empty text was found; at least one sign is expected');
  const next = seedrandom.alea(seed + BETWEEN + label);
  let spare: number | null = null;
  return {
    fraction: next,
    integer(below) {
      if (!Number.isInteger(below) || below < 1 || below > SPAN) {
        throw new Refusal(`random whole number below ${below}: 1 to 2^32 is expected`);
      }
      // The last, incomplete run of `below` values is drawn again; a remainder would favour the
      // small numbers.
      const most = below * Math.floor(SPAN / below);
      let value = next() * SPAN;
      while (value >= most) value = next() * SPAN;
      // The remainder: quotients of whole numbers below 2³² are never rounded up to the next.
      return value - below * Math.floor(value / below);
    },
    normal() {
      if (spare !== null) {
        const kept = spare;
        spare = null;
        return kept;
      }
      for (;;) {
        const u = 2 * next() - 1;
        const v = 2 * next() - 1;
        const s = u * u + v * v;
        if (s >= 1 || s === 0) continue;
        const scale = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * scale;
        return u * scale;
      }
    },
  };
}

/** Shuffles in place (Fisher and Yates; Durstenfeld 1964): every order equally likely. */
export function shuffle<T extends unknown[] | Int32Array>(list: T, random: Stream): T {
  if (list instanceof Int32Array) shuffleWhole(list, random);
  else shuffleAny(list, random);
  return list;
}

function shuffleAny(items: unknown[], random: Stream): void {
  for (let last = items.length - 1; last > 0; last--) {
    const other = random.integer(last + 1);
    const kept = items[last];
    items[last] = items[other];
    items[other] = kept;
  }
}

/** The same of whole numbers, of which draws shuffle thousands. */
function shuffleWhole(items: Int32Array, random: Stream): void {
  for (let last = items.length - 1; last > 0; last--) {
    const other = random.integer(last + 1);
    const kept = whole(items, last);
    items[last] = whole(items, other);
    items[other] = kept;
  }
}

/** The numbers 0 … count − 1 in random order. */
export function shuffledNumbers(count: number, random: Stream): number[] {
  return shuffle(
    Array.from({ length: count }, (_, i) => i),
    random,
  );
}
