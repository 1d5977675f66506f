import type { Box, Point } from './box';
import { centreOf, heightOf, widthOf } from './box';

/** Where the plane lies on the screen: pixels per mm, and the pixel at which the plane's 0,0 falls. */
export interface Viewport {
  scale: number;
  originX: number;
  originY: number;
}

export interface Pixel {
  x: number;
  y: number;
}

export interface PixelSize {
  width: number;
  height: number;
}

/** Below this width the picture gives up dimensions and wide words for the rack itself. */
const NARROW_PX = 520;

export const isNarrow = (size: PixelSize) => size.width < NARROW_PX;

export const SMALLEST_SCALE = 0.02;
export const LARGEST_SCALE = 8;

export function toPixel(view: Viewport, at: Point): Pixel {
  return { x: view.originX + at.across * view.scale, y: view.originY - at.up * view.scale };
}

export function toPlane(view: Viewport, at: Pixel): Point {
  return { across: (at.x - view.originX) / view.scale, up: (view.originY - at.y) / view.scale };
}

export function panned(view: Viewport, byX: number, byY: number): Viewport {
  return { ...view, originX: view.originX + byX, originY: view.originY + byY };
}

/** The same scale with the middle of a box in the middle of the picture. */
export function centredOn(view: Viewport, box: Box, size: PixelSize): Viewport {
  const at = toPixel(view, centreOf(box));
  return panned(view, size.width / 2 - at.x, size.height / 2 - at.y);
}

/** Zooms by a factor; what lies under the pixel stays under it. Stops at the smallest and largest scale. */
export function zoomedAbout(view: Viewport, at: Pixel, factor: number): Viewport {
  const scale = Math.min(LARGEST_SCALE, Math.max(SMALLEST_SCALE, view.scale * factor));
  const ratio = scale / view.scale;
  return {
    scale,
    originX: at.x - (at.x - view.originX) * ratio,
    originY: at.y - (at.y - view.originY) * ratio,
  };
}

/** Two fingers moved: what lay between them stays between them. */
export function pinched(
  view: Viewport,
  before: readonly [Pixel, Pixel],
  after: readonly [Pixel, Pixel],
): Viewport {
  const span = ([a, b]: readonly [Pixel, Pixel]) => Math.hypot(a.x - b.x, a.y - b.y);
  const middle = ([a, b]: readonly [Pixel, Pixel]) => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
  const from = middle(before);
  const to = middle(after);
  const was = span(before);
  const moved = panned(view, to.x - from.x, to.y - from.y);
  return was > 0 ? zoomedAbout(moved, to, span(after) / was) : moved;
}

/** The viewport that shows a box whole and centred, leaving `margin` pixels free on each side. */
export function fitted(
  box: Box,
  size: PixelSize,
  margin: { left: number; right: number; top: number; bottom: number },
  largestScale = LARGEST_SCALE,
): Viewport {
  const width = Math.max(1, size.width - margin.left - margin.right);
  const height = Math.max(1, size.height - margin.top - margin.bottom);
  const scale = Math.min(
    largestScale,
    LARGEST_SCALE,
    Math.max(
      SMALLEST_SCALE,
      Math.min(width / Math.max(1, widthOf(box)), height / Math.max(1, heightOf(box))),
    ),
  );
  return {
    scale,
    originX: margin.left + width / 2 - ((box.left + box.right) / 2) * scale,
    originY: margin.top + height / 2 + ((box.bottom + box.top) / 2) * scale,
  };
}

/** The part of the plane that a canvas of this size shows. */
export function visibleBox(view: Viewport, size: PixelSize): Box {
  const a = toPlane(view, { x: 0, y: size.height });
  const b = toPlane(view, { x: size.width, y: 0 });
  return { left: a.across, right: b.across, bottom: a.up, top: b.up };
}
