import type { Tails } from './tails';
import { Refusal } from '../../../words';

/**
 * Root of a continuous function with a sign change between a and b, by Chandrupatla's (1997)
 * mixture of inverse quadratic interpolation and bisection, to the last digits of the abscissa, or
 * within `coarse` of it, relative to the larger of 1 and the root.
 */
export function findRoot(f: (x: number) => number, a: number, b: number, coarse = 0): number {
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) {
    throw new Refusal(`findRoot: no sign change between ${a} (${fa}) and ${b} (${fb})`);
  }
  let c = a;
  let fc = fa;
  let t = 0.5;
  for (let i = 0; i < 200; i++) {
    const x = a + t * (b - a);
    const fx = f(x);
    if (Math.sign(fx) === Math.sign(fa)) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const tolerance = 2e-16 * Math.abs(best) + 1e-17 + coarse * Math.max(1, Math.abs(best));
    const reach = tolerance / Math.abs(b - a);
    if (reach > 0.5 || fa === 0) return best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const interpolate = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    t = interpolate
      ? (fa / (fb - fa)) * (fc / (fb - fc)) +
        (((c - a) / (b - a)) * fa * fb) / ((fc - fa) * (fc - fb))
      : 0.5;
    t = Math.min(1 - reach, Math.max(reach, t));
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}

/**
 * Point x > 0 where the named tail of a positive variable has the given probability.
 * Solved on ln x and on the logarithm of whichever tail is the smaller, so that far tails and
 * points near zero keep their digits. `probability` strictly between 0 and 1.
 */
export function positiveQuantile(
  tails: (x: number) => Tails,
  probability: number,
  tail: 'lower' | 'upper',
  start = 1,
): number {
  const flip = probability > 0.5;
  const useLower = (tail === 'lower') !== flip;
  const target = Math.log(flip ? 1 - probability : probability);
  const gap = (logX: number): number => {
    const both = tails(Math.exp(logX));
    return useLower
      ? Math.max(-1e4, Math.log(both.lower)) - target
      : target - Math.max(-1e4, Math.log(both.upper));
  };
  let low = Math.log(start);
  let high = low;
  let step = 0.05;
  if (gap(low) > 0) {
    do {
      high = low;
      low -= step;
      step *= 2;
      // Smaller than any double: the quantile is zero for all purposes.
      if (low < -740) return 0;
    } while (gap(low) > 0);
  } else {
    do {
      low = high;
      high += step;
      step *= 2;
      if (high > 709) return Infinity;
    } while (gap(high) < 0);
  }
  return Math.exp(findRoot(gap, low, high));
}
