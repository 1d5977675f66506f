import type { SparseColumn } from '../linear';
import { whole } from '../../entry';

/** The design columns of one variance component. */
export interface RandomColumns {
  name: string;
  columns: readonly SparseColumn[];
}

/** Random columns that share rows with each other, directly or through others, and with no more. */
export interface ColumnBlock {
  /** Numbers of the columns among all, in order. */
  readonly columns: Int32Array;
  /** By component: where its columns begin among those of the block; one more for the end. */
  readonly spans: Int32Array;
  /** B, their cross products. */
  readonly gram: Float64Array;
  /** The first block with the same spans and B, whose factors are the same; itself if none. */
  readonly like: number;
  /** T: one row of length `rank` a column. The cross products that count are B − TTᵀ over all blocks. */
  readonly low: Float64Array;
}

/** One block of columns at given ratios: those whose ratio is above zero, S = I + Λ^½BΛ^½ = LLᵀ. */
export interface BlockFactor {
  /** Places in the block of the active columns, and √γ of each. */
  active: Int32Array;
  roots: Float64Array;
  factor: Float64Array;
  /** L⁻¹Λ^½T, one row a column of T. */
  lean: Float64Array;
}

/**
 * What the criterion is at given ratios, but for the response. With Λ = diag(γ) everything is a
 * matter of m = B − TTᵀ, b and yy by way of (I + Λ^½ m Λ^½)⁻¹ = S⁻¹ + S⁻¹Λ^½T A⁻¹ TᵀΛ^½S⁻¹,
 * A = I − TᵀΛ^½S⁻¹Λ^½T, S block by block (Sherman, Morrison & Woodbury).
 */
export interface Factors {
  ratios: Float64Array;
  blocks: readonly BlockFactor[];
  /** Cholesky factor of A. */
  lowFactor: Float64Array;
  /** log|S||A|; NaN where rounding leaves one of them not positive definite. */
  logDet: number;
}

/** Columns of all components that hang together by a row in which neither is zero. */
export function connected(components: readonly RandomColumns[], n: number): Int32Array[] {
  const columns = components.flatMap((component) => component.columns);
  const q = columns.length;
  const parent = Int32Array.from({ length: q }, (_, j) => j);
  const root = (j: number): number => {
    let at = j;
    while (parent[at] !== at) at = parent[at] ?? at;
    return at;
  };
  const first = new Int32Array(n).fill(-1);
  columns.forEach(({ rows, values }, j) => {
    for (let k = 0; k < rows.length; k++) {
      if (values[k] === 0) continue;
      const row = whole(rows, k);
      const before = whole(first, row);
      if (before < 0) first[row] = j;
      else if (root(before) !== root(j)) parent[root(before)] = root(j);
    }
  });
  const lists = new Map<number, number[]>();
  for (let at = 0; at < q; at++) {
    const list = lists.get(root(at));
    if (list) list.push(at);
    else lists.set(root(at), [at]);
  }
  return [...lists.values()].map((list) => Int32Array.from(list));
}

/** Where the columns of each component begin among the sorted `columns` of a block. */
export function spansOf(
  columns: Int32Array,
  parts: readonly { readonly start: number; readonly count: number }[],
): Int32Array {
  const spans = new Int32Array(parts.length + 1).fill(columns.length);
  parts.forEach(({ start }, k) => {
    const at = columns.findIndex((j) => j >= start);
    spans[k] = at < 0 ? columns.length : at;
  });
  return spans;
}

/** For each of some blocks, the first with the same spans and B. */
export function alikeBlocks(blocks: readonly Pick<ColumnBlock, 'spans' | 'gram'>[]): number[] {
  const firsts: number[] = [];
  return blocks.map(({ spans, gram }, k) => {
    const found = firsts.find((first) => {
      const other = blocks[first];
      return other && sameList(other.spans, spans) && sameList(other.gram, gram);
    });
    if (found === undefined) firsts.push(k);
    return found ?? k;
  });
}

function sameList(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/**
 * Whether it pays to keep blocks apart, with `rank` columns taken out of them, rather than to take those
 * out first, which makes all of them one block: multiplications of one look at the criterion.
 */
export function paysApart(sizes: readonly number[], rank: number): boolean {
  const q = sizes.reduce((sum, size) => sum + size, 0);
  const apart = sizes.reduce((sum, size) => sum + size ** 3 / 6 + (size ** 2 * rank) / 2, 0);
  return apart + (q * rank ** 2) / 2 + rank ** 3 / 6 < q ** 3 / 6;
}
