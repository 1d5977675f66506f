import { num } from '../../entry';

/**
 * Compact letters: two groups share a letter exactly when they do not differ (insert and absorb,
 * Piepho 2004, Journal of Computational and Graphical Statistics 13, 456–466).
 *
 * `names` in the order in which letters are handed out (largest mean first); `differ` says which
 * pairs differ. Non-transitive patterns come out right: a group may hold several letters.
 */
export function compactLetters(
  names: readonly string[],
  differ: (a: number, b: number) => boolean,
): Record<string, string> {
  let sets: Set<number>[] = [new Set(names.keys())];
  for (let a = 0; a < names.length; a++) {
    for (let b = a + 1; b < names.length; b++) {
      if (!differ(a, b)) continue;
      const split = sets.flatMap((set) => {
        if (!set.has(a) || !set.has(b)) return [set];
        return [without(set, a), without(set, b)];
      });
      sets = absorb(split);
    }
  }
  const ordered = sweep(sets).sort((p, q) => compareSets(p, q));
  return Object.fromEntries(
    names.map((name, i) => [
      name,
      ordered.map((set, letter) => (set.has(i) ? letterOf(letter) : '')).join(''),
    ]),
  );
}

function without(set: ReadonlySet<number>, member: number): Set<number> {
  const rest = new Set(set);
  rest.delete(member);
  return rest;
}

/** Leaves out every set that another one contains. */
function absorb(sets: readonly Set<number>[]): Set<number>[] {
  return sets.filter(
    (set, i) =>
      !sets.some(
        (other, j) =>
          i !== j &&
          [...set].every((member) => other.has(member)) &&
          (other.size > set.size || j < i),
      ),
  );
}

/** Leaves out sets whose every pair (or lone member) another set already joins. */
function sweep(sets: readonly Set<number>[]): Set<number>[] {
  let kept = [...sets];
  for (const set of sets) {
    const others = kept.filter((other) => other !== set);
    const joined = [...set].every((a) =>
      [...set].every((b) => others.some((other) => other.has(a) && other.has(b))),
    );
    if (joined) kept = others;
  }
  return kept;
}

function compareSets(p: ReadonlySet<number>, q: ReadonlySet<number>): number {
  const a = [...p].sort((x, y) => x - y);
  const b = [...q].sort((x, y) => x - y);
  for (let i = 0; i < Math.min(a.length, b.length); i++) {
    const difference = num(a, i) - num(b, i);
    if (difference !== 0) return difference;
  }
  return a.length - b.length;
}

const ALPHABET = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ';

function letterOf(index: number): string {
  return ALPHABET[index] ?? `(${index + 1})`;
}
