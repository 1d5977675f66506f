import { mostAlike } from './alike';
import type { Numbers } from './draws';
import type { RandomisationPlan } from './plan';

/** How treatments were drawn over single rows of a table, those without a response among them. */
export interface Allocation {
  /** Treatments that were drawn together. */
  readonly factors: readonly string[];
  /** By row of the table: the group within which levels were shuffled; below 0: not drawn. */
  readonly groups: Int32Array;
  /** By row of the table, the level of each of `factors`. */
  readonly levels: readonly (readonly string[])[];
  /**
   * One more layout; null where a shuffle within groups is all that the draw was.
   */
  readonly anew: ((run: number) => DrawnLevels) | null;
  /** The most layouts of those that are alike, where that is known already. */
  readonly alike?: (() => number) | null;
  readonly runs: number;
  readonly seed: string;
  /** Where random numbers come from, if they are for many tables. */
  readonly numbers?: Numbers;
  /** Whether these are more layouts than the draw could give, its scheme being out of reach. */
  readonly loose?: boolean;
  /** What levels were shuffled within, in words: `block`; empty: within the whole trial. */
  readonly within: string;
}

/** A layout by combinations of the levels of the drawn factors. */
export interface DrawnLevels {
  readonly combinations: readonly (readonly string[])[];
  /** By row of the table, the number of its combination; below 0: not drawn. */
  readonly codes: Int32Array;
}

/** The most draws that divide the rows alike. */
export function alikeDraws(anew: (run: number) => DrawnLevels, count: number): number {
  const draws = Array.from({ length: count }, (_, run) => anew(run));
  const labels = Math.max(0, ...draws.map(({ combinations }) => combinations.length));
  return mostAlike(
    draws.map(({ codes }) => codes),
    labels,
  );
}

/**
 * All factors of a draw shuffled over single rows within its groups; labels count the levels of each
 * factor in the order in which they are `seen`. Rows that are lost move nowhere.
 */
export function shuffleOf(
  { factors, levels, groups }: Allocation,
  isLost: (row: number) => boolean,
): { full: RandomisationPlan; seen: ReadonlyMap<string, readonly string[]> } {
  const seen = new Map(
    factors.map((name, f) => [name, [...new Set(levels.map((row) => row[f] ?? ''))]]),
  );
  const labels: number[][] = [];
  const known = new Map<string, number>();
  const observed = new Int32Array(levels.length).fill(-1);
  const homes = new Map<number, number[]>();
  levels.forEach((row, i) => {
    const group = groups[i] ?? -1;
    if (group < 0 || isLost(i)) return;
    const home = homes.get(group);
    if (home) home.push(i);
    else homes.set(group, [i]);
    const own = factors.map((name, f) => seen.get(name)?.indexOf(row[f] ?? '') ?? -1);
    const label = known.get(own.join(' ')) ?? labels.length;
    if (label === labels.length) {
      known.set(own.join(' '), label);
      labels.push(own);
    }
    observed[i] = label;
  });
  const full: RandomisationPlan = {
    term: 0,
    moved: factors,
    labels,
    observed,
    unitRows: levels.map((_, row) => Int32Array.of(row)),
    groups: [...homes.values()].map((units) => Int32Array.from(units)),
  };
  return { full, seen };
}
