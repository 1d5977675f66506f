import type { Pot } from '../../../engine/geometry';
import type { ColumnSource } from './slip';
import { medianInPlace, medianOfSorted, MAD_TO_SD } from './robust';

/*
 * A column as numbers in the order of its pots. Every typed value asks about its whole column: what
 * goes through ten thousand pots then looks nothing up by a pot's name, and in plain loops: each
 * number that is handed to a function is a thing of its own to be cleared away.
 */

const read = new WeakMap<object, { pots: readonly Pot[]; figures: Float64Array }>();

/** The value of each pot; NaN: none. */
export function figuresOf(
  pots: readonly Pot[],
  values: Readonly<Record<string, number>>,
): Float64Array {
  const known = read.get(values);
  if (known?.pots === pots) return known.figures;
  const figures = new Float64Array(pots.length);
  pots.forEach(({ id }, i) => {
    figures[i] = values[id] ?? NaN;
  });
  read.set(values, { pots, figures });
  return figures;
}

/** The same without the values of dead plants. */
export function livingFigures({
  pots,
  values,
  marks,
}: Pick<ColumnSource, 'pots' | 'values' | 'marks'>): Float64Array {
  const figures = figuresOf(pots, values);
  for (const id in marks) {
    if (marks[id]?.mark !== 'dead') continue;
    return figures.map((value, i) => (marks[pots[i]?.id ?? '']?.mark === 'dead' ? NaN : value));
  }
  return figures;
}

/** Logarithms of the values above 0; NaN: the others. */
export function logsOf(figures: Float64Array): Float64Array {
  const logs = new Float64Array(figures.length);
  for (let i = 0; i < figures.length; i++) {
    const value = figures[i] ?? NaN;
    logs[i] = value > 0 ? Math.log(value) : NaN;
  }
  return logs;
}

/** Which group each pot is in, by number. */
export interface Groups {
  of: Uint32Array;
  names: readonly string[];
}

function groupsBy(pots: readonly Pot[], nameOf: (pot: Pot) => string): Groups {
  const numbers = new Map<string, number>();
  const of = Uint32Array.from(pots, (pot) => {
    const name = nameOf(pot);
    const known = numbers.get(name) ?? numbers.size;
    numbers.set(name, known);
    return known;
  });
  return { of, names: [...numbers.keys()] };
}

const trays = new WeakMap<readonly Pot[], Groups>();

export function trayGroups(pots: readonly Pot[]): Groups {
  const known = trays.get(pots) ?? groupsBy(pots, ({ trayId }) => trayId);
  trays.set(pots, known);
  return known;
}

const treatments = new WeakMap<object, { pots: readonly Pot[]; groups: Groups }>();

/** By treatment; all in one where no layout has given any. */
export function treatmentGroups({
  pots,
  treatmentOf,
}: Pick<ColumnSource, 'pots' | 'treatmentOf'>): Groups {
  const key = treatmentOf ?? pots;
  const known = treatments.get(key);
  if (known?.pots === pots) return known.groups;
  const groups = groupsBy(pots, ({ id }) => treatmentOf?.get(id) ?? '');
  treatments.set(key, { pots, groups });
  return groups;
}

/** The known figures of each group, one list after another, and how to get at one. */
export interface Grouped {
  all: Float64Array;
  one: (group: number) => Float64Array;
}

/** Figures by their group; NaN is left out. */
export function grouped(figures: Float64Array, { of, names }: Groups): Grouped {
  const ends = new Uint32Array(names.length + 1);
  let known = 0;
  for (let i = 0; i < figures.length; i++) {
    if (Number.isNaN(figures[i])) continue;
    const next = (of[i] ?? 0) + 1;
    ends[next] = (ends[next] ?? 0) + 1;
    known += 1;
  }
  for (let g = 1; g < ends.length; g++) ends[g] = (ends[g] ?? 0) + (ends[g - 1] ?? 0);
  const at = ends.slice();
  const all = new Float64Array(known);
  for (let i = 0; i < figures.length; i++) {
    const value = figures[i] ?? NaN;
    if (Number.isNaN(value)) continue;
    const group = of[i] ?? 0;
    const place = at[group] ?? 0;
    all[place] = value;
    at[group] = place + 1;
  }
  return { all, one: (group) => all.subarray(ends[group], ends[group + 1]) };
}

/** The same, each group in ascending order. */
export function groupedInOrder(figures: Float64Array, groups: Groups): Grouped {
  const made = grouped(figures, groups);
  for (let g = 0; g < groups.names.length; g++) made.one(g).sort();
  return made;
}

/** The median of each group; NaN of one without figures. */
export function mediansBy(figures: Float64Array, groups: Groups): Float64Array {
  const { one } = grouped(figures, groups);
  return Float64Array.from(groups.names, (_name, g) => medianInPlace(one(g)));
}

/** The figures that are known. */
export function knownOf(figures: Float64Array): Float64Array {
  const known = new Float64Array(figures.length);
  let many = 0;
  for (let i = 0; i < figures.length; i++) {
    const value = figures[i] ?? NaN;
    if (Number.isNaN(value)) continue;
    known[many] = value;
    many += 1;
  }
  return known.subarray(0, many);
}

/** Robust standard deviation of values in ascending order. */
export function sdOfSorted(sorted: Float64Array): number {
  const middle = medianOfSorted(sorted);
  return MAD_TO_SD * medianInPlace(sorted.map((x) => Math.abs(x - middle)));
}

const holeOf = ({ trayId }: Pot, row: number, column: number): string =>
  `${trayId} ${row} ${column}`;

// The pots of a plan stay the same list while values are typed.
const holes = new WeakMap<readonly Pot[], ReadonlyMap<string, number>>();

function holesOf(pots: readonly Pot[]): ReadonlyMap<string, number> {
  const known =
    holes.get(pots) ?? new Map(pots.map((pot, i) => [holeOf(pot, pot.row, pot.column), i]));
  holes.set(pots, known);
  return known;
}

/** The numbers of the up to eight pots around one. */
export function potsAround(pots: readonly Pot[], pot: Pot): number[] {
  const byHole = holesOf(pots);
  const found: number[] = [];
  for (let r = pot.row - 1; r <= pot.row + 1; r++) {
    for (let c = pot.column - 1; c <= pot.column + 1; c++) {
      const k = r === pot.row && c === pot.column ? undefined : byHole.get(holeOf(pot, r, c));
      if (k !== undefined) found.push(k);
    }
  }
  return found;
}
