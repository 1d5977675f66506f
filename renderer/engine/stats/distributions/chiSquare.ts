import { gammaTails } from './gamma';
import { positiveQuantile } from './invert';
import { normalQuantile } from './normal';
import { requireFinite, requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';

function check(where: string, df: number): void {
  requirePositive(where, 'df', df);
  requireFinite(where, 'df', df);
}

/** Both tails of chi-square on df degrees of freedom (df > 0, may be fractional). */
export function chiSquareTails(x: number, df: number): Tails {
  return gammaTails(x / 2, df / 2);
}

/** P(χ² ≤ x) on df > 0 degrees of freedom. */
export function chiSquareLower(x: number, df: number): number {
  check('chiSquareLower', df);
  requireNumber('chiSquareLower', 'x', x);
  return reportable(chiSquareTails(x, df).lower);
}

/** P(χ² > x) on df > 0 degrees of freedom. */
export function chiSquareUpper(x: number, df: number): number {
  check('chiSquareUpper', df);
  requireNumber('chiSquareUpper', 'x', x);
  return reportable(chiSquareTails(x, df).upper);
}

function quantile(p: number, df: number, tail: 'lower' | 'upper'): number {
  if (p === 0) return tail === 'lower' ? 0 : Infinity;
  if (p === 1) return tail === 'lower' ? Infinity : 0;
  // Wilson–Hilferty's cube root as a start.
  const z = (tail === 'lower' ? 1 : -1) * normalQuantile(p);
  const c = 2 / (9 * df);
  const root = 1 - c + z * Math.sqrt(c);
  const start = root > 0.1 ? df * root ** 3 : df * 1e-3;
  return positiveQuantile((x) => chiSquareTails(x, df), p, tail, start);
}

/** The x with P(χ² ≤ x) = p. */
export function chiSquareQuantile(p: number, df: number): number {
  check('chiSquareQuantile', df);
  requireProbability('chiSquareQuantile', p);
  return quantile(p, df, 'lower');
}

/** The x with P(χ² > x) = q. */
export function chiSquareQuantileUpper(q: number, df: number): number {
  check('chiSquareQuantileUpper', df);
  requireProbability('chiSquareQuantileUpper', q);
  return quantile(q, df, 'upper');
}
