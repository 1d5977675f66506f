/** Pots of one group with the distances between them along rows and along columns. */
export interface GridBlock {
  /** Rows of the table. */
  rows: Int32Array;
  /** For each pair of pots, row major, which of the distances of `Grid` lies between them. */
  rowStep: Int32Array;
  columnStep: Int32Array;
}

export interface Grid {
  blocks: GridBlock[];
  /** Distances that occur, along rows and along columns. */
  rowDistances: Float64Array;
  columnDistances: Float64Array;
  /** True where every distance is whole, so that a correlation may be negative. */
  wholeRows: boolean;
  wholeColumns: boolean;
}

function stepsOf(positions: Float64Array, members: readonly number[][]) {
  const known = new Map<number, number>([[0, 0]]);
  const steps = members.map((rows) => {
    const out = new Int32Array(rows.length * rows.length);
    rows.forEach((a, i) => {
      rows.forEach((b, j) => {
        const distance = Math.abs((positions[a] ?? 0) - (positions[b] ?? 0));
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
  const distances = Float64Array.from(known.keys());
  return { steps, distances, whole: distances.every((d) => Number.isInteger(d)) };
}

/** Positions sorted into groups; pots of different groups are independent. */
export function gridOf(row: Float64Array, column: Float64Array, group: Int32Array): Grid {
  const members = new Map<number, number[]>();
  group.forEach((g, i) => {
    const list = members.get(g);
    if (list) list.push(i);
    else members.set(g, [i]);
  });
  const lists = [...members.values()];
  const along = stepsOf(row, lists);
  const across = stepsOf(column, lists);
  return {
    blocks: lists.map((rows, k) => ({
      rows: Int32Array.from(rows),
      rowStep: along.steps[k] ?? new Int32Array(0),
      columnStep: across.steps[k] ?? new Int32Array(0),
    })),
    rowDistances: along.distances,
    columnDistances: across.distances,
    wholeRows: along.whole,
    wholeColumns: across.whole,
  };
}

/** ρ^d and its first and second derivative in ρ, for each distance. */
export function powers(rho: number, distances: Float64Array): Float64Array[] {
  return [0, 1, 2].map((order) =>
    distances.map((d) => {
      if (order === 0) return d === 0 ? 1 : rho ** d;
      if (order === 1) return d === 0 ? 0 : d * rho ** (d - 1);
      // 0 × 0⁻¹ is none of the derivative's business.
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
