import {
  cleanBlock,
  orthogonalised,
  projectionOf,
  inner,
  timesAll,
  type KnownCovariance,
  type Parted,
  type BlockProjection,
} from '../randomisation';
import type { Shape } from './placeShapes';

/** A shape with the row of the design at each of its places; below 0: nothing was harvested there. */
export interface PlaceBlock {
  readonly shape: Shape;
  readonly rows: Int32Array;
}

/** Columns of the fixed part, each of length n. */
export type FixedPart = readonly Float64Array[];

const MOST_SWEEPS = 6;

/**
 * The point of a grid of variance parameters at which the REML criterion is least, one parameter after
 * another, step by step, until none gains; and what randomisation tests need of V there. V is block diagonal, so that
 * a point costs a few products with the kept inverses: with places m lost of W = V⁻¹, the inverse of
 * what is left is W_oo − W_om W_mm⁻¹ W_mo, and its determinant |V| |W_mm|.
 */
export function coarseSearch(
  blocks: readonly PlaceBlock[],
  x: FixedPart,
  counts: readonly number[],
): (y: Float64Array) => { projection: BlockProjection; covariance: () => KnownCovariance } {
  const points = new Map<string, Parted>();
  const pointAt = (point: Int32Array): Parted => {
    const key = point.join(' ');
    const found = points.get(key);
    if (found) return found;
    const cleaned = blocks.map(({ shape, rows }) => {
      const { inverse, logDet } = shape.at(point);
      return cleanBlock({ inverse, logDet, trends: shape.trends }, rows);
    });
    const made = { blocks: cleaned, ...orthogonalised(cleaned, x) };
    points.set(key, made);
    return made;
  };
  const start = Int32Array.from(counts, (count) => Math.floor((count - 1) / 2));
  return (y) => {
    const known = new Map<string, number>();
    const criterion = (point: Int32Array): number => {
      const key = point.join(' ');
      const found = known.get(key) ?? criterionOf(pointAt(point), y);
      known.set(key, found);
      return found;
    };
    let best = start.slice();
    for (let sweep = 0, moved = true; moved && sweep < MOST_SWEEPS; sweep++) {
      moved = false;
      counts.forEach((count, k) => {
        for (const step of [1, -1]) {
          for (;;) {
            const tried = best.slice();
            const level = (tried[k] ?? 0) + step;
            if (level < 0 || level >= count) break;
            tried[k] = level;
            if (!(criterion(tried) < criterion(best) - 1e-9)) break;
            best = tried;
            moved = true;
          }
        }
      });
    }
    const point = best;
    return {
      projection: projectionOf(pointAt(point), y),
      covariance: () => covarianceAt(blocks, point, y.length),
    };
  };
}

function covarianceAt(
  blocks: readonly PlaceBlock[],
  point: Int32Array,
  n: number,
): KnownCovariance {
  const v = new Float64Array(n * n);
  const trends: Float64Array[] = [];
  for (const { shape, rows } of blocks) {
    const own = shape.at(point).v;
    rows.forEach((i, a) => {
      if (i < 0) return;
      rows.forEach((j, b) => {
        if (j >= 0) v[i * n + j] = own[a * shape.size + b] ?? 0;
      });
    });
    for (const trend of shape.trends) {
      const column = new Float64Array(n);
      rows.forEach((i, a) => {
        if (i >= 0) column[i] = trend[a] ?? 0;
      });
      trends.push(column);
    }
  }
  return { v, trends };
}

/** −2 log L of the profile over σ², but for a constant. */
function criterionOf({ blocks, basis, logGram }: Parted, y: Float64Array): number {
  let rest = inner(y, timesAll(blocks, y));
  for (const { along } of basis) rest -= inner(along, y) ** 2;
  const rank = blocks.reduce((sum, one) => sum + one.rank, basis.length);
  const logDet = blocks.reduce((sum, one) => sum + one.logDet, logGram);
  return (y.length - rank) * Math.log(rest) + logDet;
}
