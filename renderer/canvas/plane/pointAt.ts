import type { PointMark } from '../look';
import type { Scene } from './scene';
import { fromAbove } from './things';
import type { Pixel, Viewport } from './viewport';
import { toPixel } from './viewport';

const REACH_PX = 8;

/** The point mark within reach of a pixel, on a shelf seen from above. */
export function pointAt(
  scene: Scene,
  points: readonly PointMark[],
  view: Viewport,
  at: Pixel,
): string | null {
  if (!fromAbove(scene.view)) return null;
  let best: string | null = null;
  let least = REACH_PX;
  for (const point of points) {
    const origin = scene.byRef.get(`shelf:${point.shelfId}`)?.origin;
    if (!origin) continue;
    const p = toPixel(view, { across: origin.across + point.xMm, up: origin.up + point.yMm });
    const away = Math.hypot(p.x - at.x, p.y - at.y);
    if (away <= least) {
      best = point.ref;
      least = away;
    }
  }
  return best;
}
