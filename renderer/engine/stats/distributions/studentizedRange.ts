import { averageOverScale } from './chiScale';
import { fTails } from './f';
import { positiveQuantile } from './invert';
import { normalDensity, phi, phiBetween } from './normal';
import { requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';
import { Refusal } from '../../../words';

/** x^n for a whole n, quicker than Math.pow in the inner loop. */
function wholePower(x: number, n: number): number {
  let result = 1;
  for (let m = n, base = x; m > 0; m = Math.floor(m / 2), base *= base) {
    if (m % 2 === 1) result *= base;
  }
  return result;
}

const REACH = 9.5;

/** Step of the trapezium rule over z for k groups: the integrand is at narrowest φ(z)^k wide. */
function innerStep(groups: number): number {
  return 0.75 / Math.sqrt(Math.max(3, groups));
}

/** P(range of k standard normals ≤ w) = k ∫ φ(z) [Φ(z) − Φ(z − w)]^(k−1) dz. */
function rangeLower(w: number, groups: number): number {
  const h = innerStep(groups);
  let sum = 0;
  for (let z = -REACH; z < REACH; z += h) {
    sum += normalDensity(z) * wholePower(phiBetween(z, w), groups - 1);
  }
  return groups * sum * h;
}

/** 1 − (1 − r)^n without the loss of digits that the difference would bring. */
function leastOne(r: number, n: number): number {
  if (n > 16) return -Math.expm1(n * Math.log1p(-r));
  let sum = 1;
  for (let k = 1; k < n; k++) sum = 1 + (1 - r) * sum;
  return r * sum;
}

/** φ underflows beyond it. */
const FARTHEST = 39;

/**
 * P(range > w) = k ∫ φ(z) {Φ(z)^(k−1) − [Φ(z) − Φ(z − w)]^(k−1)} dz, every term positive, as a
 * function of w. What does not depend on w is tabled once.
 */
function rangeUpperOf(groups: number): (w: number) => number {
  const h = innerStep(groups);
  const n = groups - 1;
  const count = Math.ceil((FARTHEST + REACH) / h);
  const below = new Float64Array(count);
  const weight = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const z = -REACH + i * h;
    below[i] = phi(z);
    weight[i] = normalDensity(z) * wholePower(below[i] ?? 0, n);
  }
  return (w) => {
    // The integrand lies around w / 2.
    const first = Math.floor(w / 2 / h);
    const last = Math.min(count - 1, first + Math.ceil((2 * REACH) / h));
    let sum = 0;
    for (let i = first; i <= last; i++) {
      const ratio = phi(-REACH + i * h - w) / (below[i] ?? 1);
      sum += (weight[i] ?? 0) * leastOne(Math.min(1, ratio), n);
    }
    return groups * sum * h;
  };
}

function lowerTail(q: number, groups: number, df: number): number {
  if (df === Infinity) return rangeLower(q, groups);
  // For small q the integrand is q^(k−1) s^(k−1) f(s), which peaks above s = 1.
  const power = groups - 1;
  let best = 1;
  let bestValue = -Infinity;
  const most = Math.sqrt((df + power) / df);
  for (let i = 0; i <= 8; i++) {
    const s = most ** (i / 8);
    const value = Math.log(rangeLower(q * s, groups)) + df * (Math.log(s) - (s * s) / 2);
    if (value > bestValue) {
      bestValue = value;
      best = s;
    }
  }
  return averageOverScale(df, (s) => rangeLower(q * s, groups), best, power);
}

function upperTail(
  q: number,
  groups: number,
  df: number,
  rangeUpper: (w: number) => number,
): number {
  if (df === Infinity) return rangeUpper(q);
  // P(range > w) ~ exp(−w²/4), so that f(s) P(range > q s) peaks below s = 1.
  const peak = Math.sqrt(df / (df + (q * q) / 2));
  return averageOverScale(df, (s) => rangeUpper(q * s), peak, groups - 1);
}

/** Both tails of the studentized range at q; the larger one is formed from the smaller. */
function studentizedRangeTails(groups: number, df: number): (q: number) => Tails {
  // Two means: q² = 2 t² = 2 F.
  if (groups === 2) return ofPositive((q) => fTails((q * q) / 2, 1, df));
  const rangeUpper = rangeUpperOf(groups);
  return ofPositive((q) => {
    const upper = upperTail(q, groups, df, rangeUpper);
    if (upper < 0.5) return { lower: 1 - upper, upper };
    const lower = lowerTail(q, groups, df);
    return { lower, upper: 1 - lower };
  });
}

function ofPositive(tails: (q: number) => Tails): (q: number) => Tails {
  return (q) => {
    if (q <= 0) return { lower: 0, upper: 1 };
    return q === Infinity ? { lower: 1, upper: 0 } : tails(q);
  };
}

function check(where: string, groups: number, df: number): void {
  if (!Number.isInteger(groups) || groups < 2) {
    throw new Refusal(`${where}: groups is ${groups}; expected a whole number from 2`);
  }
  requirePositive(where, 'df', df);
}

/**
 * P(Q ≤ q) of the studentized range of `groups` means on df degrees of freedom (df > 0, may be
 * fractional or Infinity). Direct integration over the common error and the largest mean, as
 * defined by Tukey (1953) and tabled by Harter (1960); about 13 digits in both tails.
 */
export function studentizedRangeLower(q: number, groups: number, df: number): number {
  check('studentizedRangeLower', groups, df);
  requireNumber('studentizedRangeLower', 'q', q);
  return reportable(studentizedRangeTails(groups, df)(q).lower);
}

/** P(Q > q) of the studentized range: the Tukey–Kramer p value at q = √2 |t|. */
export function studentizedRangeUpper(q: number, groups: number, df: number): number {
  check('studentizedRangeUpper', groups, df);
  requireNumber('studentizedRangeUpper', 'q', q);
  return reportable(studentizedRangeTails(groups, df)(q).upper);
}

function quantile(p: number, groups: number, df: number, tail: 'lower' | 'upper'): number {
  if (p === 0) return tail === 'lower' ? 0 : Infinity;
  if (p === 1) return tail === 'lower' ? Infinity : 0;
  return positiveQuantile(studentizedRangeTails(groups, df), p, tail, 3);
}

/** The q with P(Q ≤ q) = p. */
export function studentizedRangeQuantile(p: number, groups: number, df: number): number {
  check('studentizedRangeQuantile', groups, df);
  requireProbability('studentizedRangeQuantile', p);
  return quantile(p, groups, df, 'lower');
}

/** The q with P(Q > q) = p: the critical range of a family of all pairs at level p. */
export function studentizedRangeQuantileUpper(p: number, groups: number, df: number): number {
  check('studentizedRangeQuantileUpper', groups, df);
  requireProbability('studentizedRangeQuantileUpper', p);
  return quantile(p, groups, df, 'upper');
}
