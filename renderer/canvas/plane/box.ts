/**
 * An upright rectangle of the drawing plane, mm: across to the right, up away from the viewer's
 * feet. Seen from above, up is the shelf's depth (to the back); seen from the front, it is the
 * height above the floor.
 */
export interface Box {
  left: number;
  right: number;
  bottom: number;
  top: number;
}

export interface Point {
  across: number;
  up: number;
}

export const widthOf = (box: Box) => box.right - box.left;
export const heightOf = (box: Box) => box.top - box.bottom;
export const centreOf = (box: Box): Point => ({
  across: (box.left + box.right) / 2,
  up: (box.bottom + box.top) / 2,
});

export function boxBetween(a: Point, b: Point): Box {
  return {
    left: Math.min(a.across, b.across),
    right: Math.max(a.across, b.across),
    bottom: Math.min(a.up, b.up),
    top: Math.max(a.up, b.up),
  };
}

export function shifted(box: Box, byAcross: number, byUp: number): Box {
  return {
    left: box.left + byAcross,
    right: box.right + byAcross,
    bottom: box.bottom + byUp,
    top: box.top + byUp,
  };
}

export function grown(box: Box, by: number): Box {
  return {
    left: box.left - by,
    right: box.right + by,
    bottom: box.bottom - by,
    top: box.top + by,
  };
}

/** The smallest box around all; null for none. */
export function boxAround(boxes: readonly Box[]): Box | null {
  const [first, ...rest] = boxes;
  if (!first) return null;
  return rest.reduce(
    (sum, box) => ({
      left: Math.min(sum.left, box.left),
      right: Math.max(sum.right, box.right),
      bottom: Math.min(sum.bottom, box.bottom),
      top: Math.max(sum.top, box.top),
    }),
    first,
  );
}

export function contains(box: Box, at: Point): boolean {
  return at.across >= box.left && at.across <= box.right && at.up >= box.bottom && at.up <= box.top;
}

export function boxesMeet(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.bottom < b.top && b.bottom < a.top;
}

export function boxInside(inner: Box, outer: Box): boolean {
  return (
    inner.left >= outer.left &&
    inner.right <= outer.right &&
    inner.bottom >= outer.bottom &&
    inner.top <= outer.top
  );
}
