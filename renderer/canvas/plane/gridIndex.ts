import type { Point } from './box';

/** Circles or boxes found by a point: a uniform grid of buckets over their centres. */
export interface GridIndex<T> {
  /** Things whose centre lies within `reach` (the largest half-extent given) of the point. */
  near(at: Point): readonly T[];
}

/**
 * Buckets things by centre. `reach` is the largest half-extent of any thing, so that a look into
 * the 3 × 3 buckets around a point misses none.
 */
export function gridIndex<T>(
  things: readonly T[],
  centre: (thing: T) => Point,
  reach: number,
): GridIndex<T> {
  const cell = Math.max(1, reach);
  const buckets = new Map<string, T[]>();
  const column = (across: number) => Math.floor(across / cell);
  for (const thing of things) {
    const at = centre(thing);
    const key = `${column(at.across)} ${column(at.up)}`;
    const bucket = buckets.get(key);
    if (bucket) bucket.push(thing);
    else buckets.set(key, [thing]);
  }
  return {
    near(at) {
      const found: T[] = [];
      const c = column(at.across);
      const r = column(at.up);
      for (let i = c - 1; i <= c + 1; i++) {
        for (let j = r - 1; j <= r + 1; j++) {
          const bucket = buckets.get(`${i} ${j}`);
          if (bucket) found.push(...bucket);
        }
      }
      return found;
    },
  };
}
