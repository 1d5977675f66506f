import type { Design } from '../design';
import { entry, real, whole } from '../../entry';
import { mostAlike } from './alike';
import { alikeDraws, shuffleOf, type Allocation, type DrawnLevels } from './allocation';
import type { CellFits } from './cells';
import { countArrangements, drawAll, shuffles } from './draws';
import { holdOthers } from './hold';
import type { RandomisationPlan } from './plan';

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
  fits: Fits,
  allocation: Allocation,
  names: readonly string[],
): Layouts {
  const { factors, levels, groups, anew } = allocation;
  // Where no row of a level has a response, its rows keep it in every layout.
  const isLost = (row: number): boolean =>
    factors.some(
      (name, f) => design.factors.has(name) && levelCode(design, name, levels[row]?.[f] ?? '') < 0,
    );
  const anyLost = levels.some((_, row) => (groups[row] ?? -1) >= 0 && isLost(row));
  if (anew && !anyLost) return drawnAnew(design, fits, allocation, anew, names);
  const { full, seen } = shuffleOf(allocation, isLost);
  const plan = holdOthers(full, names);
  const laid = cellsByLabel(design, fits, plan, seen);
  // What things are called moves nothing.
  const about = { together: false, loose: allocation.loose === true || anew !== null };
  return countArrangements(plan) <= LISTED
    ? { ...about, ...listed(plan, levels.length, laid, fits.count) }
    : { ...about, ...shuffled(plan, allocation, names, laid, fits.count) };
}

type Fits = Pick<CellFits, 'count' | 'observed' | 'moved'>;
/** The combination at each row of the design, given the label of each row of the table. */
type Laid = (labelOf: (row: number) => number) => Int32Array;
type Shuffled = Pick<Layouts, 'count' | 'at' | 'exact' | 'alike'>;

function levelCode(design: Design, name: string, level: string): number {
  return design.factors.get(name)?.levels.indexOf(level) ?? -1;
}

/** Layouts drawn by the scheme itself. */
function drawnAnew(
  { factors, rowIndex: rows }: Design,
  fits: Fits,
  allocation: Allocation,
  anew: (run: number) => DrawnLevels,
  names: readonly string[],
): Layouts {
  const at = allocation.factors.flatMap((name, f) => {
    const levels = factors.get(name)?.levels;
    return levels ? [{ name, f, levels }] : [];
  });
  // By the combination that a row is given, and by the one it has, the one it comes to have.
  const tables = new Map<DrawnLevels['combinations'], Int32Array[]>();
  const tableOf = (combinations: DrawnLevels['combinations']): Int32Array[] => {
    const known = tables.get(combinations);
    if (known) return known;
    const made = [...combinations, []].map((own) => {
      const moved = new Map(at.map(({ name, f, levels }) => [name, levels.indexOf(own[f] ?? '')]));
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
  const count = allocation.runs;
  return {
    count,
    at: cells,
    exact: false,
    together: at.some(({ name }) => !names.includes(name)),
    loose: allocation.loose === true,
    alike: allocation.alike ?? (() => alikeDraws(anew, count)),
  };
}

/** How rows come to their combinations by the labels of a shuffle. */
function cellsByLabel(
  design: Design,
  fits: Fits,
  plan: RandomisationPlan,
  seen: ReadonlyMap<string, readonly string[]>,
): Laid {
  const moved = plan.labels.map((label) => {
    const own = new Map(
      plan.moved.map((name, m) => [
        name,
        levelCode(design, name, seen.get(name)?.[label[m] ?? -1] ?? ''),
      ]),
    );
    return Int32Array.from({ length: fits.count }, (_, cell) => fits.moved(cell, own));
  });
  const rows = design.rowIndex;
  return (labelOf) => {
    const own = new Int32Array(rows.length);
    for (let i = 0; i < own.length; i++) {
      const cell = whole(fits.observed, i);
      own[i] = moved[labelOf(rows[i] ?? -1)]?.[cell] ?? cell;
    }
    return own;
  };
}

/** All layouts of a shuffle, one by one. */
function listed(plan: RandomisationPlan, rows: number, laid: Laid, labels: number): Shuffled {
  const cells: Int32Array[] = [];
  drawAll(plan, {
    size: rows,
    addUnit: (sums, unit, label) => (sums[unit] = label + 1),
    f(sums) {
      cells.push(laid((row) => real(sums, row) - 1));
      return 0;
    },
  });
  // The first is the observed one, which is looked at beforehand.
  const all = cells.slice(1);
  return {
    count: all.length,
    at: (run) => entry(all, run),
    exact: true,
    alike: () => mostAlike(all, labels),
  };
}

/** Layouts of a shuffle drawn at random. */
function shuffled(
  plan: RandomisationPlan,
  { factors, seed, numbers, runs: count }: Allocation,
  names: readonly string[],
  laid: Laid,
  cells: number,
): Shuffled {
  const moving = factors.flatMap((name, f) => (names.includes(name) ? [f] : []));
  const next = shuffles(plan, `${seed} ${moving.join(' ')}`, numbers);
  const labels = plan.observed.slice();
  const at = inTurn(() => {
    next((row, label) => (labels[row] = label));
    return laid((row) => labels[row] ?? -1);
  });
  const renamed = plan.labels.reduce((product, _, k) => product * (k + 1), 1);
  // So many ways of dividing the rows that no two of the layouts are likely to share one.
  const alike = (): number =>
    countArrangements(plan) / renamed > MANY * count
      ? 1
      : mostAlike(
          Array.from({ length: count }, (_, run) => at(run)),
          cells,
        );
  return { count, at, exact: false, alike };
}

/** Computes each once, those before it first. */
function inTurn(compute: (run: number) => Int32Array): (run: number) => Int32Array {
  const known: Int32Array[] = [];
  return (run) => {
    while (known.length <= run) known.push(compute(known.length));
    return entry(known, run);
  };
}
