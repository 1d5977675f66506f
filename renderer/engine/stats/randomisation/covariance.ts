import { denseColumn } from '../linear';
import { choleskyInPlace, solveLowerRows } from '../mixed/cholesky';
import type { LocalColumns } from '../mixed/complement';
import { Refusal } from '../../../words';
import { real, whole } from '../../entry';

/** Rows that vary together, and with no others. */
export interface CovarianceBlock {
  readonly rows: Int32Array;
  /** Row major, lower triangle; blocks that are alike hold the same list. */
  readonly v: Float64Array;
  /** Fixed columns beside those of the design, over those rows. */
  readonly trends: readonly Float64Array[];
}

/** How rows vary together, whatever is drawn on them. */
export interface KnownCovariance {
  readonly blocks: readonly CovarianceBlock[];
}

/** The same blocks, those with equal entries holding one list, so that what rests on it is made once. */
export function sharing(blocks: readonly CovarianceBlock[]): CovarianceBlock[] {
  const known: Float64Array[] = [];
  return blocks.map((block) => {
    const { v } = block;
    const found = known.find((other) => isSame(other, v));
    if (!found) known.push(v);
    return { ...block, v: found ?? v };
  });
}

function isSame(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** The Cholesky factor of each block, one of blocks that are alike. Throws where V is singular. */
export function choleskyOfBlocks(): (block: Pick<CovarianceBlock, 'rows' | 'v'>) => Float64Array {
  const known = new Map<Float64Array, Float64Array>();
  return ({ rows, v }) => {
    const found = known.get(v);
    if (found) return found;
    const factor = v.slice();
    if (!choleskyInPlace(factor, rows.length)) {
      throw new Refusal(
        'randomisation test: the correlation of neighbours leaves no variation between them to judge by',
      );
    }
    known.set(v, factor);
    return factor;
  };
}

/**
 * L⁻¹ times columns over all rows, V = LLᵀ, in place of them, and times the trends of each block. Throws
 * where V is singular.
 */
export function whiten(
  { blocks }: KnownCovariance,
  columns: readonly Float64Array[],
): LocalColumns[] {
  const factorOf = choleskyOfBlocks();
  return blocks.map((block) => {
    const { rows, trends } = block;
    const size = rows.length;
    const present = columns.filter((column) => rows.some((row) => column[row] !== 0));
    const own = new Float64Array((present.length + trends.length) * size);
    present.forEach((column, k) => {
      for (let i = 0; i < size; i++) own[k * size + i] = real(column, whole(rows, i));
    });
    trends.forEach((trend, k) => own.set(trend, (present.length + k) * size));
    solveLowerRows(factorOf(block), size, own, present.length + trends.length);
    present.forEach((column, k) => {
      for (let i = 0; i < size; i++) column[whole(rows, i)] = real(own, k * size + i);
    });
    return {
      rows,
      columns: trends.map((_, k) => {
        const at = (present.length + k) * size;
        return own.slice(at, at + size);
      }),
    };
  });
}

/** The trends of all blocks over n rows. */
export function denseTrends({ blocks }: KnownCovariance, n: number): Float64Array[] {
  return blocks.flatMap(({ rows, trends }) =>
    trends.map((values) => denseColumn({ rows, values }, n)),
  );
}

/** V over all n rows, row major, lower triangle. */
export function denseCovariance({ blocks }: KnownCovariance, n: number): Float64Array {
  const dense = new Float64Array(n * n);
  for (const { rows, v } of blocks) {
    const size = rows.length;
    rows.forEach((i, a) => {
      rows.forEach((j, b) => {
        if (j <= i) dense[i * n + j] = real(v, Math.max(a, b) * size + Math.min(a, b));
      });
    });
  }
  return dense;
}
