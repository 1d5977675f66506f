import type { CellFits } from './cells';

/**
 * The most layouts that divide the rows alike, whichever level each part has: no more of them than
 * that can have the same F, but by a rare coincidence of figures.
 */
export function mostAlike(
  cells: readonly Int32Array[],
  fits: Pick<CellFits, 'count' | 'moved'>,
  names: readonly string[],
): number {
  const first = new Map(names.map((name) => [name, 0]));
  const seen = new Map<number, number>();
  // Which combination of the levels that move a cell has.
  const labels = Int32Array.from({ length: fits.count }, (_, cell) => {
    const home = fits.moved(cell, first);
    const label = seen.get(home) ?? 0;
    seen.set(home, label + 1);
    return label;
  });
  const order = new Int32Array(fits.count);
  const counts = new Map<number, number>();
  let most = 0;
  for (const own of cells) {
    order.fill(0);
    let found = 0;
    let hash = 0;
    let other = 7;
    for (let i = 0; i < own.length; i++) {
      const label = labels[own[i] ?? 0] ?? 0;
      if (order[label] === 0) order[label] = ++found;
      const code = order[label] ?? 0;
      hash = (Math.imul(hash, 31) + code) | 0;
      other = (Math.imul(other, 1_000_003) ^ code) | 0;
    }
    const key = hash * 2 ** 20 + (other & 0xf_ff_ff);
    const count = (counts.get(key) ?? 0) + 1;
    counts.set(key, count);
    most = Math.max(most, count);
  }
  return most;
}
