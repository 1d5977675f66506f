import { columnLists, denseColumn, fromColumns, spaceOf, withColumns, type Qr } from '../../linear';
import { logDeterminant } from '../../mixed/cholesky';
import { apartFrom, type LocalColumns } from '../../mixed/complement';
import type { Matrix } from '../../model';
import { choleskyOfBlocks, whiten, type KnownCovariance } from '../covariance';

/** Least squares on L⁻¹X and L⁻¹y, V = LLᵀ, past the trends. */
export interface Whitened {
  /** Of X, and where trends say a part of what it says, of them after it. */
  readonly qr: Qr;
  /** Qᵀy */
  readonly turned: Float64Array;
  /** Rank of X and the trends. */
  readonly rank: number;
}

/** Throws where V is singular. */
export function whitened(x: Matrix, y: Float64Array, covariance: KnownCovariance): Whitened {
  const n = y.length;
  const columns = columnLists(x);
  const response = y.slice();
  const trends = whiten(covariance, [...columns, response]);
  const own = fromColumns(columns, n);
  const apart = apartFrom(trends, own, spaceOf(x).rank);
  const qr = spaceOf(apart?.left ?? withColumns(own, trends.flatMap(overRows(n))));
  const turned = apart?.complement.out(response) ?? response;
  qr.applyQt(turned);
  return { qr, turned, rank: qr.rank + (apart?.complement.rank ?? 0) };
}

const overRows =
  (n: number) =>
  ({ rows, columns }: LocalColumns): Float64Array[] =>
    columns.map((values) => denseColumn({ rows, values }, n));

/** Squares of what the fit leaves. */
export function leftOver({ qr, turned }: Whitened): number {
  return turned.subarray(qr.rank).reduce((sum, value) => sum + value ** 2, 0);
}

/**
 * log N(y; Xβ̂, V) with β̂ by generalised least squares, and the rank of X and the trends. Throws where V
 * is singular.
 */
export function normalLogLik(
  x: Matrix,
  y: Float64Array,
  covariance: KnownCovariance,
): { logLik: number; rank: number } {
  const factorOf = choleskyOfBlocks();
  const logDet = covariance.blocks.reduce(
    (sum, block) => sum + logDeterminant(factorOf(block), block.rows.length),
    0,
  );
  const found = whitened(x, y, covariance);
  const squares = leftOver(found);
  return { logLik: -0.5 * (y.length * Math.log(2 * Math.PI) + logDet + squares), rank: found.rank };
}
