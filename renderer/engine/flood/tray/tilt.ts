import type { Slope } from '../../../../shared-types/flood';
import type { Tray } from '../../../../shared-types/rack';

/** How the floor of a tray lies: height over its lowest corner, mm, and where the drain stands. */
export interface Tilt {
  /** Rise of the floor at a place in the tray (from its front left corner) over the drain's foot. */
  riseMm: (xMm: number, yMm: number) => number;
  /** From the lowest corner up to the drain's foot: water below it never leaves by the drain. */
  drainOverLowestMm: number;
  /** From the lowest corner to the highest. */
  fallMm: number;
  perMmX: number;
  perMmY: number;
}

export function tiltOf(tray: Tray, slope: Slope | undefined): Tilt {
  const perMmX = (slope?.rightMmPerM ?? 0) / 1000;
  const perMmY = (slope?.backMmPerM ?? 0) / 1000;
  const acrossX = perMmX * tray.widthMm;
  const acrossY = perMmY * tray.depthMm;
  const lowest = Math.min(0, acrossX) + Math.min(0, acrossY);
  const fallMm = Math.abs(acrossX) + Math.abs(acrossY);
  const drainShare = { lowest: 0, middle: 0.5, highest: 1 }[slope?.drainAt ?? 'lowest'];
  const drainOverLowestMm = drainShare * fallMm;
  return {
    riseMm: (x, y) => perMmX * x + perMmY * y - lowest - drainOverLowestMm,
    drainOverLowestMm,
    fallMm,
    perMmX,
    perMmY,
  };
}

/**
 * Litres between a tilted rectangular floor and a level surface, sides upright. `deepestMm` is the
 * depth at the lowest corner. Closed form: the double integral of (d₀ − s x − t y)₊ is
 * Σ ± (depth at the corner)₊³ / (6 s t), and the like with squares where one side is level.
 */
export function wedgeL(
  widthMm: number,
  depthMm: number,
  perMmX: number,
  perMmY: number,
  deepestMm: number,
): number {
  if (deepestMm <= 0) return 0;
  const x = Math.abs(perMmX) * widthMm;
  const y = Math.abs(perMmY) * depthMm;
  const area = widthMm * depthMm;
  // Nothing dry: the mean depth is that in the middle.
  if (deepestMm >= x + y) return (area * (deepestMm - (x + y) / 2)) / 1e6;
  const plus = (mm: number) => Math.max(0, mm);
  const small = 1e-9 * deepestMm;
  if (x <= small || y <= small) {
    const fall = Math.max(x, y);
    return ((area / fall) * (deepestMm ** 2 - plus(deepestMm - fall) ** 2)) / 2 / 1e6;
  }
  const cubes =
    deepestMm ** 3 -
    plus(deepestMm - x) ** 3 -
    plus(deepestMm - y) ** 3 +
    plus(deepestMm - x - y) ** 3;
  return ((area / (x * y)) * cubes) / 6 / 1e6;
}
