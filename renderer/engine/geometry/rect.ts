import { Refusal } from '../../words';

/** An upright rectangle; x to the right, y away from its origin. mm. */
export interface Rect {
  xMm: number;
  yMm: number;
  widthMm: number;
  depthMm: number;
}

// Figures are typed to a tenth of a millimetre; less than this is a shared edge, not an overlap.
const TOUCHING_MM = 0.05;

export function rectsOverlap(a: Rect, b: Rect): boolean {
  return (
    a.xMm + a.widthMm > b.xMm + TOUCHING_MM &&
    b.xMm + b.widthMm > a.xMm + TOUCHING_MM &&
    a.yMm + a.depthMm > b.yMm + TOUCHING_MM &&
    b.yMm + b.depthMm > a.yMm + TOUCHING_MM
  );
}

export function rectInside(inner: Rect, outer: Rect): boolean {
  return (
    inner.xMm >= outer.xMm - TOUCHING_MM &&
    inner.yMm >= outer.yMm - TOUCHING_MM &&
    inner.xMm + inner.widthMm <= outer.xMm + outer.widthMm + TOUCHING_MM &&
    inner.yMm + inner.depthMm <= outer.yMm + outer.depthMm + TOUCHING_MM
  );
}

/** The smallest rectangle around some. Throws on none. */
export function boundsOf(rects: readonly Rect[]): Rect {
  if (rects.length === 0) throw new Refusal('bounds: found no rectangle; at least one is expected');
  let [left, front, right, back] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const rect of rects) {
    left = Math.min(left, rect.xMm);
    front = Math.min(front, rect.yMm);
    right = Math.max(right, rect.xMm + rect.widthMm);
    back = Math.max(back, rect.yMm + rect.depthMm);
  }
  return { xMm: left, yMm: front, widthMm: right - left, depthMm: back - front };
}

/** Upright box around a rectangle turned about its centre. */
export function turnedBounds(
  centre: { xMm: number; yMm: number },
  lengthMm: number,
  widthMm: number,
  rotationDeg: number,
): Rect {
  const angle = (rotationDeg * Math.PI) / 180;
  const c = Math.abs(Math.cos(angle));
  const s = Math.abs(Math.sin(angle));
  const w = lengthMm * c + widthMm * s;
  const d = lengthMm * s + widthMm * c;
  return { xMm: centre.xMm - w / 2, yMm: centre.yMm - d / 2, widthMm: w, depthMm: d };
}
