import type { Design } from '../design';
import { countArrangements, drawAll, drawRandom } from './draws';
import type { CellFits } from './cells';
import type { RedrawPlan } from './plan';

/** How treatments were drawn over single rows of a table, those without a response among them. */
export interface Allocation {
  /** Treatments that were drawn together. */
  readonly factors: readonly string[];
  /** By row of the table: the group within which levels were shuffled; below 0: not drawn. */
  readonly groups: Int32Array;
  /** By row of the table, the level of each of `factors`. */
  readonly levels: readonly (readonly string[])[];
  /**
   * By row of the table, the levels of one more layout; null where a shuffle within groups is all
   * that the draw was.
   */
  readonly anew: ((run: number) => readonly (readonly string[])[]) | null;
  readonly runs: number;
  readonly seed: string;
  /** Whether these are more layouts than the draw could give, its scheme being out of reach. */
  readonly loose?: boolean;
  /** What levels were shuffled within, in words: `block`; empty: within the whole trial. */
  readonly within: string;
}

export interface Layouts {
  /** Combinations at each row of the design, layout by layout. */
  readonly cells: readonly Int32Array[];
  /** Whether those are all layouts there can be, the observed one among them. */
  readonly exact: boolean;
  /** Whether factors drawn together with those in question move too. */
  readonly together: boolean;
}

/** Shuffles of so few layouts are listed one by one. */
const LISTED = 2000;

/**
 * Layouts in which some factors lie anew and all others stay. Where the draw was more than a
 * shuffle within groups, and other factors were drawn by it too, all of them move together.
 */
export function layoutsOf(
  design: Design,
  fits: CellFits,
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
  const rows = [...design.rowIndex];
  if (anew && !anyLost) {
    const at = factors.flatMap((name, f) => (design.factors.has(name) ? [{ name, f }] : []));
    const cells = Array.from({ length: allocation.runs }, (_, run) => {
      const laid = anew(run);
      return Int32Array.from(rows, (row, i) =>
        fits.moved(
          fits.observed[i] ?? 0,
          new Map(at.map(({ name, f }) => [name, codeOf(name, laid[row]?.[f] ?? '')])),
        ),
      );
    });
    return { cells, exact: false, together: at.some(({ name }) => !names.includes(name)) };
  }
  const moving = factors.flatMap((name, f) => (names.includes(name) ? [f] : []));
  const key = (row: number, those: readonly number[]): string =>
    those.map((f) => levels[row]?.[f] ?? '').join('\n');
  const still = factors.flatMap((_, f) => (moving.includes(f) ? [] : [f]));
  const homes = new Map<string, number[]>();
  groups.forEach((group, row) => {
    if (group < 0 || isLost(row)) return;
    const home = `${group}\n${key(row, still)}`;
    const held = homes.get(home);
    if (held) held.push(row);
    else homes.set(home, [row]);
  });
  const labels: ReadonlyMap<string, number>[] = [];
  const known = new Map<string, number>();
  const observed = Int32Array.from(groups, (group, row) => {
    if (group < 0 || isLost(row)) return -1;
    const own = key(row, moving);
    const label = known.get(own) ?? labels.length;
    if (label === labels.length) {
      known.set(own, label);
      labels.push(
        new Map(
          moving.map((f) => {
            const name = factors[f] ?? '';
            return [name, codeOf(name, levels[row]?.[f] ?? '')];
          }),
        ),
      );
    }
    return label;
  });
  const plan: RedrawPlan = {
    ...{ term: 0, moved: names, labels: [] },
    unitRows: levels.map((_, row) => Int32Array.of(row)),
    groups: [...homes.values()].map((units) => Int32Array.from(units)),
    observed,
  };
  // By label and combination, the combination with that label.
  const moved = labels.map((label) => {
    const cache = new Map<number, number>();
    return (cell: number): number => {
      const found = cache.get(cell) ?? fits.moved(cell, label);
      cache.set(cell, found);
      return found;
    };
  });
  const cells: Int32Array[] = [];
  const collect = {
    size: levels.length,
    addUnit(sums: Float64Array, unit: number, label: number) {
      sums[unit] = label + 1;
    },
    f(sums: Float64Array) {
      cells.push(
        Int32Array.from(rows, (row, i) => {
          const label = (sums[row] ?? 0) - 1;
          const cell = fits.observed[i] ?? 0;
          return moved[label]?.(cell) ?? cell;
        }),
      );
      return 0;
    },
  };
  const exact = countArrangements(plan) <= LISTED;
  if (exact) drawAll(plan, collect);
  else drawRandom(plan, collect, allocation.runs, `${allocation.seed} ${moving.join(' ')}`);
  // What things are called moves nothing. The first is the observed one, which both look at beforehand.
  return { cells: cells.slice(1), exact, together: anew !== null };
}
