import { betaTails } from './beta';
import { chiSquareTails } from './chiSquare';
import { positiveQuantile } from './invert';
import { requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';

function check(where: string, df1: number, df2: number): void {
  requirePositive(where, 'df1', df1);
  requirePositive(where, 'df2', df2);
}

/**
 * Both tails of F on df1 and df2 degrees of freedom. With df2 = Infinity it is chi-square over
 * df1, with df1 = Infinity the inverse of chi-square over df2, with both the constant 1.
 */
export function fTails(x: number, df1: number, df2: number): Tails {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (x === Infinity) return { lower: 1, upper: 0 };
  if (df1 === Infinity && df2 === Infinity) {
    return x < 1 ? { lower: 0, upper: 1 } : { lower: 1, upper: 0 };
  }
  if (df2 === Infinity) return chiSquareTails(df1 * x, df1);
  if (df1 === Infinity) {
    const inverse = chiSquareTails(df2 / x, df2);
    return { lower: inverse.upper, upper: inverse.lower };
  }
  const ratio = (df1 / df2) * x;
  if (ratio === Infinity) return { lower: 1, upper: 0 };
  return betaTails(ratio / (1 + ratio), 1 / (1 + ratio), df1 / 2, df2 / 2);
}

/** P(F ≤ x) on df1, df2 (each > 0 or Infinity). */
export function fLower(x: number, df1: number, df2: number): number {
  check('fLower', df1, df2);
  requireNumber('fLower', 'x', x);
  return reportable(fTails(x, df1, df2).lower);
}

/** P(F > x) on df1, df2 (each > 0 or Infinity). */
export function fUpper(x: number, df1: number, df2: number): number {
  check('fUpper', df1, df2);
  requireNumber('fUpper', 'x', x);
  return reportable(fTails(x, df1, df2).upper);
}

function quantile(p: number, df1: number, df2: number, tail: 'lower' | 'upper'): number {
  if (df1 === Infinity && df2 === Infinity) return 1;
  if (p === 0) return tail === 'lower' ? 0 : Infinity;
  if (p === 1) return tail === 'lower' ? Infinity : 0;
  return positiveQuantile((x) => fTails(x, df1, df2), p, tail);
}

/** The x with P(F ≤ x) = p. */
export function fQuantile(p: number, df1: number, df2: number): number {
  check('fQuantile', df1, df2);
  requireProbability('fQuantile', p);
  return quantile(p, df1, df2, 'lower');
}

/** The x with P(F > x) = q: the critical value of a test at level q. */
export function fQuantileUpper(q: number, df1: number, df2: number): number {
  check('fQuantileUpper', df1, df2);
  requireProbability('fQuantileUpper', q);
  return quantile(q, df1, df2, 'upper');
}
