import type { Design } from '../design';
import { entry, real, whole } from '../../entry';
import { mostAlike } from './alike';
import { countArrangements, drawAll, shuffles, type Numbers } from './draws';
import type { CellFits } from './cells';
import { holdOthers } from './hold';
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

export interface Layouts {
  readonly count: number;
  /** Combinations at each row of the design in one of the layouts; the same list each time. */
  at(run: number): Int32Array;
  /** Whether those are all layouts there can be, the observed one among them. */
  readonly exact: boolean;
  /** Whether factors drawn together with those in question move too. */
  readonly together: boolean;
  /** Whether these are more layouts than the draw could give. */
  readonly loose: boolean;
  /** The most of them that are alike but for what levels are called; no fewer. */
  alike(): number;
}

/** Shuffles of so few layouts are listed one by one. */
const LISTED = 2000;
/** So many times as many ways to lie as layouts are drawn: two that are alike are a rare chance. */
const MANY = 100;

/**
 * Layouts in which some factors lie anew and all others stay. Where the draw was more than a
 * shuffle within groups, and other factors were drawn by it too, all of them move together.
 */
export function layoutsOf(
  design: Design,
  fits: Pick<CellFits, 'count' | 'observed' | 'moved'>,
  allocation: Allocation,
  names: readonly string[],
): Layouts {
  const { factors, levels, groups, anew } = allocation;
  const codeOf = (name: string, level: string): number =>
    design.factors.get(name)?.levels.indexOf(level) ?? -1;
  // Where no row of a level has a response, its rows keep it in every layout.
  const isLost = (row: number): boolean =>
    factors.some((name, f) => design.factors.has(name) && codeOf(name, levels[row]?.[f] ?? '') < 0);
  const anyLost = levels.some((_, row) => (groups[row] ?? -1) >= 0 && isLost(row));
  const rows = design.rowIndex;
  if (anew && !anyLost) {
    const at = factors.flatMap((name, f) => (design.factors.has(name) ? [{ name, f }] : []));
    // By the combination that a row is given, and by the one it has, the one it comes to have.
    const tables = new Map<DrawnLevels['combinations'], Int32Array[]>();
    const tableOf = (combinations: DrawnLevels['combinations']): Int32Array[] => {
      const known = tables.get(combinations);
      if (known) return known;
      const made = [...combinations, []].map((own) => {
        const moved = new Map(at.map(({ name, f }) => [name, codeOf(name, own[f] ?? '')]));
        return Int32Array.from({ length: fits.count }, (_, cell) => fits.moved(cell, moved));
      });
      tables.set(combinations, made);
      return made;
    };
    const cells = inTurn((run) => {
      const { combinations, codes } = anew(run);
      const moves = tableOf(combinations);
      const none = moves[combinations.length];
      // A plain loop: this is run for every layout of every harvest of a rehearsal.
      const own = new Int32Array(rows.length);
      for (let i = 0; i < own.length; i++) {
        const cell = whole(fits.observed, i);
        const code = codes[rows[i] ?? -1] ?? -1;
        own[i] = (code < 0 ? none : moves[code])?.[cell] ?? cell;
      }
      return own;
    });
    const together = at.some(({ name }) => !names.includes(name));
    const count = allocation.runs;
    const alike = allocation.alike ?? (() => alikeDraws(anew, count));
    const loose = allocation.loose === true;
    return { count, at: cells, exact: false, together, loose, alike };
  }
  const { full, seen } = shuffleOf(allocation, isLost);
  const plan = holdOthers(full, names);
  const moved = plan.labels.map((label) => {
    const own = new Map(
      plan.moved.map((name, m) => [name, codeOf(name, seen.get(name)?.[label[m] ?? -1] ?? '')]),
    );
    return Int32Array.from({ length: fits.count }, (_, cell) => fits.moved(cell, own));
  });
  // What things are called moves nothing.
  const loose = allocation.loose === true || anew !== null;
  const about = { together: false, loose };
  const laid = (labelOf: (row: number) => number): Int32Array => {
    const own = new Int32Array(rows.length);
    for (let i = 0; i < own.length; i++) {
      const cell = whole(fits.observed, i);
      own[i] = moved[labelOf(rows[i] ?? -1)]?.[cell] ?? cell;
    }
    return own;
  };
  const arrangements = countArrangements(plan);
  if (arrangements <= LISTED) {
    const cells: Int32Array[] = [];
    drawAll(plan, {
      size: levels.length,
      addUnit: (sums, unit, label) => (sums[unit] = label + 1),
      f(sums) {
        cells.push(laid((row) => real(sums, row) - 1));
        return 0;
      },
    });
    // The first is the observed one, which is looked at beforehand.
    const all = cells.slice(1);
    const at = (run: number): Int32Array => entry(all, run);
    return {
      ...about,
      count: all.length,
      at,
      exact: true,
      alike: () => mostAlike(all, fits.count),
    };
  }
  const moving = factors.flatMap((name, f) => (names.includes(name) ? [f] : []));
  const next = shuffles(plan, `${allocation.seed} ${moving.join(' ')}`, allocation.numbers);
  const labels = plan.observed.slice();
  const at = inTurn(() => {
    next((row, label) => (labels[row] = label));
    return laid((row) => labels[row] ?? -1);
  });
  const count = allocation.runs;
  const renamed = plan.labels.reduce((product, _, k) => product * (k + 1), 1);
  // So many ways of dividing the rows that no two of the layouts are likely to share one.
  const alike = (): number =>
    arrangements / renamed > MANY * count
      ? 1
      : mostAlike(
          Array.from({ length: count }, (_, run) => at(run)),
          fits.count,
        );
  return { ...about, count, at, exact: false, alike };
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

/** Computes each once, those before it first. */
function inTurn(compute: (run: number) => Int32Array): (run: number) => Int32Array {
  const known: Int32Array[] = [];
  return (run) => {
    while (known.length <= run) known.push(compute(known.length));
    return entry(known, run);
  };
}

/**
 * All factors of a draw shuffled over single rows within its groups; labels count the levels of each
 * factor in the order in which they are `seen`. Rows that are lost move nowhere.
 */
function shuffleOf(
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
    ...{ term: 0, moved: factors, labels, observed },
    unitRows: levels.map((_, row) => Int32Array.of(row)),
    groups: [...homes.values()].map((units) => Int32Array.from(units)),
  };
  return { full, seen };
}
