import { real } from '../../entry';

/** Share of a statistic within which two layouts count as equally extreme. */
const TIE = 1e-9;

/** What the layouts say about one statistic. */
export interface Reference {
  /** How many of the layouts give at least `value`. */
  asExtreme(value: number): number;
  p(value: number): number;
  /** p(value) < alpha exactly where value > limit(alpha); null where no value is so rare. */
  limit(alpha: number): number | null;
  /** The least p that there can be: that of the largest statistic of all layouts. */
  readonly leastP: number;
}

/**
 * Statistics of layouts as a reference. Listed in full (`exact`), the observed layout is among them
 * and p is a share of them; else it is counted in: p = (1 + as extreme) / (1 + layouts).
 */
export function referenceOf(values: Float64Array, exact: boolean, observed: number): Reference {
  const sorted = values.slice().sort().reverse();
  const runs = sorted.length;
  const own = exact ? 0 : 1;
  const asExtreme = (value: number): number => {
    const least = value * (1 - TIE);
    let low = 0;
    let high = runs;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (real(sorted, middle) >= least) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  const share = (count: number): number => (own + count) / (own + runs);
  const p = (value: number): number => share(asExtreme(value));
  const largest = Math.max(observed, real(sorted, 0));
  return {
    asExtreme,
    p,
    leastP: p(largest),
    limit(alpha) {
      let most = -1;
      // The largest number of layouts as extreme that still is rarer than alpha.
      let count = Math.ceil(alpha * (own + runs)) - own;
      while (count >= 0 && !(share(count) < alpha)) count--;
      most = count;
      if (most < 0 || (exact && most < 1)) return null;
      return real(sorted, most) / (1 - TIE);
    },
  };
}

/**
 * Whether p(observed) < alpha by that reference over `runs` random layouts, looking at no more of them
 * than it takes: null results are plain after a few (Besag & Clifford 1991, Biometrika 78, 301–304).
 */
export function isRarer(
  runs: number,
  statisticOf: (run: number) => number,
  observed: number,
  alpha: number,
): boolean {
  const least = observed * (1 - TIE);
  let count = 0;
  for (let run = 0; run < runs; run++) {
    if (statisticOf(run) >= least) count++;
    if (!((1 + count) / (1 + runs) < alpha)) return false;
  }
  return (1 + count) / (1 + runs) < alpha;
}
