import type { RandomUnit } from './types';

/** Pots that depend on each other, with the distances between them along rows and columns. */
export interface GridBlock {
  /** Rows of the table. */
  rows: Int32Array;
  /** For each pair of pots, row major, which of the distances of `Grid` lies between them. */
  rowStep: Int32Array;
  columnStep: Int32Array;
  /** Level of each pot, for each random unit. */
  codes: Int32Array[];
}

export interface Grid {
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
          group[a] === group[b] ? Math.abs((positions[a] ?? 0) - (positions[b] ?? 0)) : Infinity;
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

/** Sets of rows such that rows of different sets share neither a group nor a level of a unit. */
function separateSets(group: Int32Array, random: readonly RandomUnit[]): Int32Array[] {
  const parent = Int32Array.from(group, (_, i) => i);
  const root = (row: number): number => {
    let at = row;
    while (parent[at] !== at) at = parent[at] ?? at;
    return at;
  };
  for (const codes of [group, ...random.map((unit) => unit.codes)]) {
    const first = new Map<number, number>();
    codes.forEach((code, row) => {
      const known = first.get(code);
      if (known === undefined) first.set(code, row);
      else parent[root(row)] = root(known);
    });
  }
  const sets = new Map<number, number[]>();
  group.forEach((_, row) => {
    const home = root(row);
    const list = sets.get(home);
    if (list) list.push(row);
    else sets.set(home, [row]);
  });
  return [...sets.values()].map((list) => Int32Array.from(list));
}

/** Positions sorted into blocks that are independent of each other. */
export function gridOf(
  row: Float64Array,
  column: Float64Array,
  group: Int32Array,
  random: readonly RandomUnit[] = [],
): Grid {
  const members = separateSets(group, random);
  const along = stepsOf(row, group, members);
  const across = stepsOf(column, group, members);
  return {
    blocks: members.map((rows, k) => ({
      rows,
      rowStep: along.steps[k] ?? new Int32Array(0),
      columnStep: across.steps[k] ?? new Int32Array(0),
      codes: random.map((unit) => rows.map((i) => unit.codes[i] ?? 0)),
    })),
    rowDistances: along.distances,
    columnDistances: across.distances,
  };
}

/** ρ^d and its first and second derivative in ρ, for each distance. */
export function powers(rho: number, distances: Float64Array): Float64Array[] {
  return [0, 1, 2].map((order) =>
    distances.map((d) => {
      // Groups are unrelated whatever ρ; and 0 × 0⁻¹ is none of the derivative's business.
      if (d === Infinity) return 0;
      if (order === 0) return d === 0 ? 1 : rho ** d;
      if (order === 1) return d === 0 ? 0 : d * rho ** (d - 1);
      return d === 0 || d === 1 ? 0 : d * (d - 1) * rho ** (d - 2);
    }),
  );
}

/** The matrix of a block whose entries are products of a row and a column factor. */
export function blockMatrix(
  block: GridBlock,
  rowFactor: Float64Array,
  columnFactor: Float64Array,
): Float64Array {
  const { rowStep, columnStep } = block;
  const out = new Float64Array(rowStep.length);
  for (let i = 0; i < out.length; i++) {
    out[i] = (rowFactor[rowStep[i] ?? 0] ?? 0) * (columnFactor[columnStep[i] ?? 0] ?? 0);
  }
  return out;
}

/** Adds `weight` wherever two pots share a level. */
export function addShared(target: Float64Array, codes: Int32Array, weight: number): void {
  const size = codes.length;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      if (codes[i] === codes[j]) target[i * size + j] = (target[i * size + j] ?? 0) + weight;
    }
  }
}
