import { averageOverScale } from './chiScale';
import { integrate } from './gaussLegendre';
import { positiveQuantile } from './invert';
import { normalDensity, phi, phiBetween } from './normal';
import { requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';
import { Refusal } from '../../../words';

/**
 * Loadings λᵢ of Dunnett's (1955, 1964) comparisons of several treatments with one control, for
 * the numbers of units behind each mean: λᵢ = √(nᵢ / (nᵢ + n₀)), so that comparisons i and j
 * correlate by λᵢ λⱼ. With equal numbers every correlation is ½. Where means have standard errors
 * rather than numbers, pass 1/variance for the number.
 */
export function dunnettLoadings(treatmentUnits: readonly number[], controlUnits: number): number[] {
  requirePositive('dunnettLoadings', 'controlUnits', controlUnits);
  return treatmentUnits.map((units) => {
    requirePositive('dunnettLoadings', 'units of a treatment', units);
    return Math.sqrt(units / (units + controlUnits));
  });
}

interface LoadingGroup {
  loading: number;
  rest: number; // √(1 − λ²)
  count: number;
}

/** Equal loadings are taken together: a balanced trial then costs one treatment's work. */
function grouped(where: string, loadings: readonly number[]): LoadingGroup[] {
  if (loadings.length === 0) throw new Refusal(`${where}: no comparisons; expected one or more`);
  const counts = new Map<number, number>();
  for (const loading of loadings) {
    if (!(Math.abs(loading) < 1)) {
      throw new Refusal(`${where}: loading is ${loading}; expected a number between −1 and 1`);
    }
    // Two-sided: only the size of a loading matters.
    const size = Math.abs(loading);
    counts.set(size, (counts.get(size) ?? 0) + 1);
  }
  return [...counts].map(([loading, count]) => ({
    loading,
    count,
    rest: Math.sqrt((1 - loading) * (1 + loading)),
  }));
}

const REACH = 9.5;
/** The density of z is zero to double precision beyond. */
const NOTHING_BEYOND = 38.6;
/** Steps finer than this are wasted on most of z: loadings near 1 bend the integrand locally. */
const FINE = 0.02;
/** Places about such a bend, in its widths. */
const BEND = [-9, -6.5, -4.5, -3, -1.5, 0, 1.5, 3, 4.5, 6.5, 9];

function stepOverZ(groups: readonly LoadingGroup[]): number {
  let curvature = 1;
  for (const g of groups) curvature += g.count * (g.loading / g.rest) ** 2;
  return 0.75 / Math.sqrt(curvature);
}

/**
 * 2 ∫ f(z) dz from 0 to `reach` of an even integrand: by the trapezium rule, or, where some loading
 * is near 1, between places that lie close together where the integrand bends, about c / λ.
 */
function integrateOverZ(
  c: number,
  groups: readonly LoadingGroup[],
  reach: number,
  f: (z: number) => number,
): number {
  const h = stepOverZ(groups);
  let sum = 0;
  if (h >= FINE) {
    sum = f(0) / 2;
    for (let z = h; z < reach; z += h) sum += f(z);
    return 2 * sum * h;
  }
  const places = Array.from({ length: Math.ceil(reach) }, (_, i) => i);
  for (const { loading, rest } of groups) {
    if (loading > 0) for (const widths of BEND) places.push((c + widths * rest) / loading);
  }
  const inside = places.filter((z) => z >= 0 && z < reach).sort((a, b) => a - b);
  inside.forEach((from, i) => {
    sum += integrate(f, from, inside[i + 1] ?? reach);
  });
  return 2 * sum;
}

/** P(every |Xᵢ| ≤ c), Xᵢ normal with the common part λᵢ z; even in z, so half is integrated. */
function normalLower(c: number, groups: readonly LoadingGroup[]): number {
  return integrateOverZ(c, groups, REACH, (z) => {
    let product = normalDensity(z);
    for (const { loading, rest, count } of groups) {
      product *= phiBetween((loading * z + c) / rest, (2 * c) / rest) ** count;
    }
    return product;
  });
}

/** P(some |Xᵢ| > c), every term positive. */
function normalUpper(c: number, groups: readonly LoadingGroup[]): number {
  if (c > NOTHING_BEYOND) return 0;
  let reach = REACH;
  for (const g of groups) reach = Math.max(reach, g.loading * c + REACH);
  return integrateOverZ(c, groups, Math.min(reach, NOTHING_BEYOND), (z) => {
    let logNone = 0;
    for (const { loading, rest, count } of groups) {
      const beyond = phi((loading * z - c) / rest) + phi((-loading * z - c) / rest);
      logNone += count * Math.log1p(-Math.min(1, beyond));
    }
    return normalDensity(z) * -Math.expm1(logNone);
  });
}

function tails(c: number, groups: readonly LoadingGroup[], df: number): Tails {
  if (c <= 0) return { lower: 0, upper: 1 };
  if (c === Infinity) return { lower: 1, upper: 0 };
  const comparisons = groups.reduce((sum, g) => sum + g.count, 0);
  // P(|X| > c s) ~ exp(−c²s²/2), so that f(s) P peaks below s = 1.
  const peak = Math.sqrt(df / (df + c * c));
  const upper =
    df === Infinity
      ? normalUpper(c, groups)
      : averageOverScale(df, (s) => normalUpper(c * s, groups), peak, comparisons);
  if (upper < 0.5) return { lower: 1 - upper, upper };
  const lower =
    df === Infinity
      ? normalLower(c, groups)
      : averageOverScale(df, (s) => normalLower(c * s, groups), 1, comparisons);
  return { lower, upper: 1 - lower };
}

/**
 * P(max |Tᵢ| ≤ c): Dunnett's two-sided distribution, Tᵢ correlated by λᵢ λⱼ (see
 * `dunnettLoadings`), on df degrees of freedom (df > 0 or Infinity). One loading gives |t|.
 * Direct integration over the control's mean and the common error.
 */
export function dunnettLower(c: number, loadings: readonly number[], df: number): number {
  requirePositive('dunnettLower', 'df', df);
  requireNumber('dunnettLower', 'c', c);
  return reportable(tails(c, grouped('dunnettLower', loadings), df).lower);
}

/** P(max |Tᵢ| > c): the adjusted p value of a comparison with |t| = c. */
export function dunnettUpper(c: number, loadings: readonly number[], df: number): number {
  requirePositive('dunnettUpper', 'df', df);
  requireNumber('dunnettUpper', 'c', c);
  return reportable(tails(c, grouped('dunnettUpper', loadings), df).upper);
}

function quantile(
  where: string,
  p: number,
  loadings: readonly number[],
  df: number,
  tail: 'lower' | 'upper',
): number {
  requirePositive(where, 'df', df);
  requireProbability(where, p);
  const groups = grouped(where, loadings);
  if (p === 0) return tail === 'lower' ? 0 : Infinity;
  if (p === 1) return tail === 'lower' ? Infinity : 0;
  return positiveQuantile((c) => tails(c, groups, df), p, tail, 2.3);
}

/** The c with P(max |Tᵢ| ≤ c) = p: the critical value of simultaneous intervals at level p. */
export function dunnettQuantile(p: number, loadings: readonly number[], df: number): number {
  return quantile('dunnettQuantile', p, loadings, df, 'lower');
}

/** The c with P(max |Tᵢ| > c) = q. */
export function dunnettQuantileUpper(q: number, loadings: readonly number[], df: number): number {
  return quantile('dunnettQuantileUpper', q, loadings, df, 'upper');
}
