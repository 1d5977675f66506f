import { rowsTogether } from '../rowsTogether';
import type { RandomUnit } from '../types';
import { real, whole } from '../../../entry';

/** Pots that depend on each other, with the distances between them along rows and columns. */
export interface GridBlock {
  /** Rows of the table. */
  rows: Int32Array;
  /** For each pair of pots, row major, which of the distances of `Grid` lies between them. */
  rowStep: Int32Array;
  columnStep: Int32Array;
  /** Level of each pot, for each random unit. */
  codes: Int32Array[];
  /** Where each pot stands on the lattice of the rows and columns that occur; null across groups. */
  lattice: Lattice | null;
  /** The first block with the same distances and shared levels, whose V is the same; itself if none. */
  like: number;
}

/** Distinct rows and columns of one group, and the step of `Grid` between any two of them. */
export interface Lattice {
  rowOf: Int32Array;
  columnOf: Int32Array;
  rowSteps: Int32Array;
  columnSteps: Int32Array;
  rows: number;
  columns: number;
}

export interface PositionGrid {
  blocks: GridBlock[];
  /** Distances that occur along rows and along columns; Infinity between groups. */
  rowDistances: Float64Array;
  columnDistances: Float64Array;
}

interface Steps {
  steps: Int32Array[];
  distances: Float64Array;
}

function stepsOf(
  positions: Float64Array,
  group: Int32Array,
  members: readonly Int32Array[],
): Steps {
  const known = new Map<number, number>([[0, 0]]);
  const steps = members.map((rows) => {
    const out = new Int32Array(rows.length * rows.length);
    rows.forEach((a, i) => {
      rows.forEach((b, j) => {
        const distance =
          group[a] === group[b] ? Math.abs(real(positions, a) - real(positions, b)) : Infinity;
        let at = known.get(distance);
        if (at === undefined) {
          at = known.size;
          known.set(distance, at);
        }
        out[i * rows.length + j] = at;
      });
    });
    return out;
  });
  return { steps, distances: Float64Array.from(known.keys()) };
}

/** Numbers the distinct positions of some pots, and finds the step between any two of them. */
function axisOf(
  positions: Float64Array,
  pots: Int32Array,
  step: Int32Array,
): { of: Int32Array; steps: Int32Array; count: number } {
  const first = new Map<number, number>();
  pots.forEach((pot, i) => {
    const place = real(positions, pot);
    if (!first.has(place)) first.set(place, i);
  });
  const number = new Map([...first.keys()].map((place, k) => [place, k]));
  const heads = [...first.values()];
  const steps = heads.flatMap((a) => heads.map((b) => whole(step, a * pots.length + b)));
  return {
    of: pots.map((pot) => number.get(real(positions, pot)) ?? 0),
    steps: Int32Array.from(steps),
    count: heads.length,
  };
}

function latticeOf(
  row: Float64Array,
  column: Float64Array,
  group: Int32Array,
  pots: Int32Array,
  rowStep: Int32Array,
  columnStep: Int32Array,
): Lattice | null {
  const home = group[whole(pots, 0)];
  if (pots.some((pot) => group[pot] !== home)) return null;
  const along = axisOf(row, pots, rowStep);
  const across = axisOf(column, pots, columnStep);
  return {
    rowOf: along.of,
    columnOf: across.of,
    rowSteps: along.steps,
    columnSteps: across.steps,
    rows: along.count,
    columns: across.count,
  };
}

/** Positions sorted into blocks that are independent of each other. */
export function positionGridOf(
  row: Float64Array,
  column: Float64Array,
  group: Int32Array,
  random: readonly RandomUnit[] = [],
): PositionGrid {
  const members = rowsTogether([group, ...random.map(({ codes }) => codes)], group.length);
  const along = stepsOf(row, group, members);
  const across = stepsOf(column, group, members);
  const known = new Map<string, number>();
  return {
    blocks: members.map((rows, k) => {
      const rowStep = along.steps[k] ?? new Int32Array(0);
      const columnStep = across.steps[k] ?? new Int32Array(0);
      const codes = random.map((unit) => rows.map((i) => whole(unit.codes, i)));
      const key = [rowStep, columnStep, ...codes.map(inOrder)]
        .map((list) => list.join(' '))
        .join(';');
      const like = known.get(key) ?? k;
      known.set(key, like);
      return {
        rows,
        rowStep,
        columnStep,
        codes,
        like,
        lattice: latticeOf(row, column, group, rows, rowStep, columnStep),
      };
    }),
    rowDistances: along.distances,
    columnDistances: across.distances,
  };
}

/** Levels by the order in which they come, whatever they are called. */
function inOrder(codes: Int32Array): Int32Array {
  const order = new Map<number, number>();
  return codes.map((code) => {
    const number = order.get(code) ?? order.size;
    order.set(code, number);
    return number;
  });
}
