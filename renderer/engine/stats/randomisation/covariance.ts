import { choleskyInPlace, solveLowerRows } from '../mixed/cholesky';
import { Refusal } from '../../../words';
import { real } from '../../entry';

/** Rows that vary together, and with no others. */
export interface CovarianceBlock {
  readonly rows: Int32Array;
  /** Row major, lower triangle; blocks that are alike hold the same list. */
  readonly v: Float64Array;
}

/** How rows vary together, whatever is drawn on them. */
export interface KnownCovariance {
  readonly blocks: readonly CovarianceBlock[];
  /** Fixed columns beside those of the design. */
  readonly trends: readonly Float64Array[];
}

/** The same blocks, those with equal entries holding one list, so that what rests on it is made once. */
export function sharing(blocks: readonly CovarianceBlock[]): CovarianceBlock[] {
  const known: Float64Array[] = [];
  return blocks.map(({ rows, v }) => {
    const found = known.find((other) => isSame(other, v));
    if (!found) known.push(v);
    return { rows, v: found ?? v };
  });
}

function isSame(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** The Cholesky factor of each block, one of blocks that are alike. Throws where V is singular. */
export function choleskyOfBlocks(): (block: CovarianceBlock) => Float64Array {
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

/** L⁻¹ times a column over all n rows, V = LLᵀ. Throws where V is singular. */
export function whitening(
  { blocks }: Pick<KnownCovariance, 'blocks'>,
  n: number,
): (column: Float64Array) => Float64Array {
  const factorOf = choleskyOfBlocks();
  const factors = blocks.map((block) => ({ rows: block.rows, factor: factorOf(block) }));
  return (column) => {
    const white = new Float64Array(n);
    for (const { rows, factor } of factors) {
      const own = Float64Array.from(rows, (row) => real(column, row));
      solveLowerRows(factor, rows.length, own, 1);
      rows.forEach((row, i) => (white[row] = real(own, i)));
    }
    return white;
  };
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
