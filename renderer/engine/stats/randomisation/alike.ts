import { whole } from '../../entry';

/**
 * The most of some lists of labels that divide their rows alike, whatever each part is called: no more
 * layouts than that can have the same F, but by a rare coincidence of figures.
 */
export function mostAlike(lists: readonly Int32Array[], labels: number): number {
  const order = new Int32Array(labels);
  const counts = new Map<number, number>();
  let most = 0;
  for (const own of lists) {
    order.fill(0);
    let found = 0;
    let hash = 0;
    let other = 7;
    for (let i = 0; i < own.length; i++) {
      const label = own[i] ?? -1;
      if (label < 0) continue;
      if (order[label] === 0) order[label] = ++found;
      const code = whole(order, label);
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
