import { betaKernel, betaTails } from './beta';
import { positiveQuantile } from './invert';
import { noncentralChiSquareTail } from './noncentralChiSquare';
import { poissonMixture } from './poissonMixture';
import { requireFinite, requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';
import { Refusal } from '../../../words';

function tail(x: number, df1: number, df2: number, ncp: number, side: 'lower' | 'upper'): number {
  if (x <= 0) return side === 'lower' ? 0 : 1;
  if (x === Infinity) return side === 'lower' ? 1 : 0;
  if (df2 === Infinity) return noncentralChiSquareTail(df1 * x, df1, ncp, side);
  const ratio = (df1 / df2) * x;
  if (ratio === Infinity) return side === 'lower' ? 1 : 0;
  const part = ratio / (1 + ratio);
  const rest = 1 / (1 + ratio);
  const b = df2 / 2;
  return poissonMixture(ncp / 2, side, {
    tail: (j) => betaTails(part, rest, df1 / 2 + j, b)[side],
    // I_x(a, b) − I_x(a + 1, b) = x^a y^b / (a B(a, b)) (Abramowitz & Stegun 26.5.16).
    drop: (j) => betaKernel(part, rest, df1 / 2 + j, b) / (df1 / 2 + j),
  });
}

function check(where: string, df1: number, df2: number, ncp: number): void {
  requirePositive(where, 'df1', df1);
  requireFinite(where, 'df1', df1);
  requirePositive(where, 'df2', df2);
  if (!(ncp >= 0 && ncp < Infinity)) {
    throw new Refusal(`${where}: ncp is ${ncp}; expected a finite number from 0`);
  }
}

/**
 * P(F ≤ x) of noncentral F on df1 (finite) and df2 (may be Infinity) degrees of freedom, ncp the
 * sum of squared standardised effects. About 12 digits in both tails.
 */
export function noncentralFLower(x: number, df1: number, df2: number, ncp: number): number {
  check('noncentralFLower', df1, df2, ncp);
  requireNumber('noncentralFLower', 'x', x);
  return reportable(tail(x, df1, df2, ncp, 'lower'));
}

/** P(F > x) of noncentral F: at the critical value, the power of the test. */
export function noncentralFUpper(x: number, df1: number, df2: number, ncp: number): number {
  check('noncentralFUpper', df1, df2, ncp);
  requireNumber('noncentralFUpper', 'x', x);
  return reportable(tail(x, df1, df2, ncp, 'upper'));
}

/** The x with P(F ≤ x) = p. */
export function noncentralFQuantile(p: number, df1: number, df2: number, ncp: number): number {
  check('noncentralFQuantile', df1, df2, ncp);
  requireProbability('noncentralFQuantile', p);
  if (p === 0) return 0;
  if (p === 1) return Infinity;
  const tails = (x: number): Tails => ({
    lower: tail(x, df1, df2, ncp, 'lower'),
    upper: tail(x, df1, df2, ncp, 'upper'),
  });
  return positiveQuantile(tails, p, 'lower', 1 + ncp / df1);
}
