/** A plant as it stands in another's light: an upright, opaque cylinder from its pot up. */
export interface Stand {
  xMm: number;
  yMm: number;
  /** Height of the leaves' tops above the shelf's surface. */
  topMm: number;
  /** Half the width of the leaves. */
  radiusMm: number;
}

/** Narrow leaves, in widths of the pot. */
const NARROW = 0.8;

/**
 * Plants with leaves narrower than their pots, or so wide that they touch their nearest neighbour's: a
 * canopy that is closed.
 */
export function withLeaves(stands: readonly Stand[], leaves: 'narrow' | 'touching'): Stand[] {
  return stands.map((own) => {
    if (leaves === 'narrow') return { ...own, radiusMm: NARROW * own.radiusMm };
    const away = stands
      .filter((other) => other !== own)
      .map((other) => Math.hypot(other.xMm - own.xMm, other.yMm - own.yMm));
    const nearest = Math.min(...away);
    return Number.isFinite(nearest)
      ? { ...own, radiusMm: Math.max(own.radiusMm, nearest / 2) }
      : own;
  });
}

/** Which of the others rise above a plant's top, nearest first, with their distance. */
export function tallerAround(
  own: Stand,
  all: readonly Stand[],
): { other: Stand; awayMm: number }[] {
  return all
    .filter((other) => other !== own && other.topMm > own.topMm)
    .map((other) => ({ other, awayMm: Math.hypot(other.xMm - own.xMm, other.yMm - own.yMm) }))
    .sort((a, b) => a.awayMm - b.awayMm);
}

/**
 * Whether a ray from a place on a plant's top (mm from its middle) in the direction (dx, dy, dz),
 * dz > 0, meets a taller one: whether it passes nearer than the other's radius, seen from above,
 * before it has risen over the other's top.
 */
export function meets(
  own: Stand,
  taller: readonly { other: Stand; awayMm: number }[],
  [fromX, fromY]: readonly [number, number],
  [dx, dy, dz]: readonly [number, number, number],
): boolean {
  const along = Math.hypot(dx, dy);
  for (const { other, awayMm } of taller) {
    const reach = (along * (other.topMm - own.topMm)) / dz;
    if (awayMm - other.radiusMm - Math.hypot(fromX, fromY) >= reach) continue;
    const x = other.xMm - own.xMm - fromX;
    const y = other.yMm - own.yMm - fromY;
    const [ux, uy] = along > 0 ? [dx / along, dy / along] : [1, 0];
    const foot = Math.max(0, Math.min(reach, x * ux + y * uy));
    const ex = x - foot * ux;
    const ey = y - foot * uy;
    if (ex * ex + ey * ey < other.radiusMm * other.radiusMm) return true;
  }
  return false;
}
