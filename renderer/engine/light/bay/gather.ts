import type { PointMm } from '../direct';
import type { BayBox, FaceGrid } from './box';
import { parallelCorner, standingCorner } from './viewFactors';

/**
 * Light that arrives at level, upward facing receivers from the underside above and the four
 * sides, exact for patches of even brightness. Patches of a face share corners, so that the sum
 * over patches of brightness × factor is turned into one over corners of the brightness's mixed
 * difference × corner term. Sides count only above the receiver.
 */
export function gather(
  box: BayBox,
  leaving: Float64Array,
  points: readonly PointMm[],
): Float64Array {
  const { above, front, back, left, right } = box.faces;
  const topMm = box.size.topMm;
  const [w, d] = [box.size.widthMm, box.size.depthMm];
  const overhead = cornersOf(above, leaving);
  const stepsX = w / box.cuts.x;
  const stepsY = d / box.cuts.y;
  const walls = [
    { corners: cornersOf(front, leaving), step: stepsX, from: (p: PointMm) => [p.xMm, p.yMm] },
    { corners: cornersOf(back, leaving), step: stepsX, from: (p: PointMm) => [p.xMm, d - p.yMm] },
    { corners: cornersOf(left, leaving), step: stepsY, from: (p: PointMm) => [p.yMm, p.xMm] },
    { corners: cornersOf(right, leaving), step: stepsY, from: (p: PointMm) => [p.yMm, w - p.xMm] },
  ] as const;
  const stepZ = (topMm - box.size.bottomMm) / box.cuts.z;
  const result = new Float64Array(points.length);
  points.forEach((point, n) => {
    const c = topMm - point.zMm;
    if (c <= 0) return;
    let sum = 0;
    for (let j = 0; j < overhead.rows; j++) {
      const y = j * stepsY - point.yMm;
      for (let i = 0; i < overhead.columns; i++) {
        const weight = overhead.weights[j * overhead.columns + i] ?? 0;
        if (weight !== 0) sum += weight * parallelCorner(i * stepsX - point.xMm, y, c * c);
      }
    }
    for (const { corners, step, from } of walls) {
      const [along = 0, away = 0] = from(point);
      // A point on or behind a side does not see it.
      if (away < 0 || corners.dark) continue;
      const distance = Math.max(away, 1e-6);
      for (let j = 0; j < corners.rows; j++) {
        const height = Math.max(0, box.size.bottomMm + j * stepZ - point.zMm);
        for (let i = 0; i < corners.columns; i++) {
          const weight = corners.weights[j * corners.columns + i] ?? 0;
          // Higher up a wall the term falls, hence the minus.
          if (weight !== 0) sum -= weight * standingCorner(i * step - along, height, distance);
        }
      }
    }
    result[n] = sum;
  });
  return result;
}

interface Corners {
  columns: number;
  rows: number;
  weights: Float64Array;
  dark: boolean;
}

/** Mixed second difference of the brightness at the corners of a face's patches. */
function cornersOf(grid: FaceGrid, leaving: Float64Array): Corners {
  const columns = grid.across + 1;
  const rows = grid.up + 1;
  const weights = new Float64Array(columns * rows);
  let dark = true;
  for (let j = 0; j < grid.up; j++) {
    for (let i = 0; i < grid.across; i++) {
      const value = leaving[grid.first + j * grid.across + i] ?? 0;
      if (value !== 0) dark = false;
      const at = j * columns + i;
      weights[at] = (weights[at] ?? 0) + value;
      weights[at + 1] = (weights[at + 1] ?? 0) - value;
      weights[at + columns] = (weights[at + columns] ?? 0) - value;
      weights[at + columns + 1] = (weights[at + columns + 1] ?? 0) + value;
    }
  }
  return { columns, rows, weights, dark };
}
