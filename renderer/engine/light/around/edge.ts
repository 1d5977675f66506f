import type { Side } from '../../../../shared-types/rack';

/** The edge of a bay or shelf on one of its sides, from above: x and y of both ends, mm. */
export function edgeOf(
  side: Side,
  widthMm: number,
  depthMm: number,
): readonly [x1: number, y1: number, x2: number, y2: number] {
  switch (side) {
    case 'left':
      return [0, 0, 0, depthMm];
    case 'right':
      return [widthMm, 0, widthMm, depthMm];
    case 'front':
      return [0, 0, widthMm, 0];
    case 'back':
      return [0, depthMm, widthMm, depthMm];
  }
}
