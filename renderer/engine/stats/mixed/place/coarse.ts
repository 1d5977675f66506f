import {
  cleanBlock,
  orthogonalised,
  projectionOf,
  type CovarianceBlock,
  type KnownCovariance,
  type Parted,
  type BlockProjection,
} from '../../randomisation';
import { coarseCriterion, type FixedPart, type PlaceBlock } from './coarseCriterion';
import { real, whole } from '../../../entry';

const MOST_SWEEPS = 6;

/**
 * The point of a grid of variance parameters at which the REML criterion is least, one parameter after
 * another, step by step, until none gains; and what randomisation tests need of V there.
 */
export function coarseSearch(
  blocks: readonly PlaceBlock[],
  x: FixedPart,
  counts: readonly number[],
): (y: Float64Array) => { projection: BlockProjection; covariance: () => KnownCovariance } {
  const parted = new Map<string, Parted>();
  const partedAt = (point: Int32Array): Parted => {
    const key = point.join(' ');
    const found = parted.get(key);
    if (found) return found;
    const cleaned = blocks.map(({ shape, rows }) => {
      const { inverse, logDet } = shape.at(point);
      return cleanBlock({ inverse, logDet, trends: shape.trends }, rows);
    });
    const made = { blocks: cleaned, basis: orthogonalised(cleaned, x) };
    parted.set(key, made);
    return made;
  };
  const criterionAt = coarseCriterion(blocks, x);
  const start = Int32Array.from(counts, (count) => Math.floor((count - 1) / 2));
  return (y) => {
    const known = new Map<string, number>();
    const criterion = (point: Int32Array): number => {
      const key = point.join(' ');
      const found = known.get(key) ?? criterionAt(point, y);
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
            const level = whole(tried, k) + step;
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
      projection: projectionOf(partedAt(point), y),
      covariance: () => covarianceAt(blocks, point),
    };
  };
}

function covarianceAt(blocks: readonly PlaceBlock[], point: Int32Array): KnownCovariance {
  const found = blocks.map(({ shape, rows }): CovarianceBlock => {
    const { v } = shape.at(point);
    const here = Int32Array.from(rows.keys()).filter((place) => whole(rows, place) >= 0);
    const size = here.length;
    if (size === rows.length) return { rows, v, trends: shape.trends };
    const left = Float64Array.from({ length: size * size }, (_, k) => {
      const [a, b] = [Math.floor(k / size), k % size];
      return real(v, whole(here, a) * shape.size + whole(here, b));
    });
    const trends = shape.trends.map((trend) => Float64Array.from(here, (i) => real(trend, i)));
    return { rows: here.map((place) => whole(rows, place)), v: left, trends };
  });
  return { blocks: found };
}
