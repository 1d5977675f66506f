import type { Rect } from '../../engine/geometry';

/** Where on a page things of the rack are drawn, seen from above by somebody at its edge. */
export interface Placing {
  /** Page mm per mm of the rack. */
  scale: number;
  behind: boolean;
  x(mm: number): number;
  y(mm: number): number;
}

/**
 * Puts a piece of the rack on the page with its corner there. What the person stands at is at the
 * bottom of the page: the front, or from behind the back.
 */
export function placing(
  piece: Rect,
  corner: { x: number; y: number },
  scale: number,
  behind: boolean,
): Placing {
  const { xMm, yMm, widthMm, depthMm } = piece;
  return {
    scale,
    behind,
    x: (x) => corner.x + (behind ? xMm + widthMm - x : x - xMm) * scale,
    y: (y) => corner.y + (behind ? y - yMm : yMm + depthMm - y) * scale,
  };
}

/** The same for things measured from a corner that stands elsewhere, such as a tray's. */
export function moved(at: Placing, byXMm: number, byYMm: number): Placing {
  return { ...at, x: (x) => at.x(x + byXMm), y: (y) => at.y(y + byYMm) };
}

/** A rectangle on the page, mm. */
export interface PageBox {
  left: number;
  top: number;
  width: number;
  height: number;
}

export function boxOf({ xMm, yMm, widthMm, depthMm }: Rect, at: Placing): PageBox {
  const x = [at.x(xMm), at.x(xMm + widthMm)];
  const y = [at.y(yMm), at.y(yMm + depthMm)];
  const [left, top] = [Math.min(...x), Math.min(...y)];
  return { left, top, width: Math.max(...x) - left, height: Math.max(...y) - top };
}
