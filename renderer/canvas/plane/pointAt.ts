import type { PointMark } from '../look';
import type { Scene } from './scene';
import type { Pixel, Viewport } from './viewport';
import { toPixel } from './viewport';

const REACH_PX = 8;

/** The point mark within reach of a pixel, on the shelf seen from above. */
export function pointAt(
  scene: Scene,
  points: readonly PointMark[],
  view: Viewport,
  at: Pixel,
): string | null {
  if (scene.view !== 'above') return null;
  let best: string | null = null;
  let least = REACH_PX;
  for (const point of points) {
    if (!scene.byRef.has(`shelf:${point.shelfId}`)) continue;
    const p = toPixel(view, { across: point.xMm, up: point.yMm });
    const away = Math.hypot(p.x - at.x, p.y - at.y);
    if (away <= least) {
      best = point.ref;
      least = away;
    }
  }
  return best;
}
