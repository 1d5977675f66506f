import type { Lamp, LampKind } from '../../../shared-types/rack';
import type { Rect } from '../geometry';
import { litSize } from '../lamps';

/** Where lamps of a hanging go, and how they lie. */
type Place = Pick<Lamp, 'xMm' | 'yMm' | 'rotationDeg'>;

/**
 * So many lamps of a kind spread evenly over a bay: in equal cells with a lamp in the middle of each,
 * laid along x or along y. Of all such ways it is the one in which no point of a cell is further from
 * its lamp's lit face than need be, among those in which the lamps fit.
 */
export function spreadEvenly(bay: Rect, kind: LampKind, count: number): Place[] {
  const { lengthMm, widthMm } = litSize(kind);
  const ways = divisors(count).flatMap((columns) =>
    ([0, 90] as const).map((rotationDeg) => {
      const [alongX, alongY] = rotationDeg === 0 ? [lengthMm, widthMm] : [widthMm, lengthMm];
      const rows = count / columns;
      const spareX = bay.widthMm / columns - alongX;
      const spareY = bay.depthMm / rows - alongY;
      const overMm = Math.max(0, -spareX) + Math.max(0, -spareY);
      const farMm = Math.hypot(Math.max(0, spareX) / 2, Math.max(0, spareY) / 2);
      return { columns, rows, rotationDeg, overMm, farMm };
    }),
  );
  const [first, ...others] = ways;
  if (!first) return [];
  const best = others.reduce(
    (a, b) =>
      b.overMm < a.overMm - 1e-9 || (b.overMm <= a.overMm + 1e-9 && b.farMm < a.farMm - 1e-9)
        ? b
        : a,
    first,
  );
  return Array.from({ length: count }, (_, i) => ({
    xMm: bay.xMm + (((i % best.columns) + 0.5) * bay.widthMm) / best.columns,
    yMm: bay.yMm + ((Math.floor(i / best.columns) + 0.5) * bay.depthMm) / best.rows,
    rotationDeg: best.rotationDeg,
  }));
}

const divisors = (n: number): number[] =>
  Array.from({ length: n }, (_, i) => i + 1).filter((d) => n % d === 0);
