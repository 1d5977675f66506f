import { chiSquareTails } from './chiSquare';
import { gammaKernel } from './gamma';
import { positiveQuantile } from './invert';
import { poissonMixture } from './poissonMixture';
import { requireFinite, requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';
import { Refusal } from '../../../words';

/** One tail of noncentral chi-square; df > 0, ncp ≥ 0. */
export function noncentralChiSquareTail(
  x: number,
  df: number,
  ncp: number,
  side: 'lower' | 'upper',
): number {
  if (x <= 0) return side === 'lower' ? 0 : 1;
  if (x === Infinity) return side === 'lower' ? 1 : 0;
  return poissonMixture(ncp / 2, side, {
    tail: (j) => chiSquareTails(x, df + 2 * j)[side],
    // P(a, x) − P(a + 1, x) = x^a e^(−x) / Γ(a + 1) (Abramowitz & Stegun 6.5.21).
    drop: (j) => gammaKernel(x / 2, df / 2 + j) / (df / 2 + j),
  });
}

function check(where: string, df: number, ncp: number): void {
  requirePositive(where, 'df', df);
  requireFinite(where, 'df', df);
  if (!(ncp >= 0 && ncp < Infinity)) {
    throw new Refusal(`${where}: ncp is ${ncp}; expected a finite number from 0`);
  }
}

/** P(χ² ≤ x) of noncentral chi-square, ncp = sum of the squared means. */
export function noncentralChiSquareLower(x: number, df: number, ncp: number): number {
  check('noncentralChiSquareLower', df, ncp);
  requireNumber('noncentralChiSquareLower', 'x', x);
  return reportable(noncentralChiSquareTail(x, df, ncp, 'lower'));
}

/** P(χ² > x) of noncentral chi-square, ncp = sum of the squared means. */
export function noncentralChiSquareUpper(x: number, df: number, ncp: number): number {
  check('noncentralChiSquareUpper', df, ncp);
  requireNumber('noncentralChiSquareUpper', 'x', x);
  return reportable(noncentralChiSquareTail(x, df, ncp, 'upper'));
}

/** The x with P(χ² ≤ x) = p. */
export function noncentralChiSquareQuantile(p: number, df: number, ncp: number): number {
  check('noncentralChiSquareQuantile', df, ncp);
  requireProbability('noncentralChiSquareQuantile', p);
  if (p === 0) return 0;
  if (p === 1) return Infinity;
  const tails = (x: number): Tails => ({
    lower: noncentralChiSquareTail(x, df, ncp, 'lower'),
    upper: noncentralChiSquareTail(x, df, ncp, 'upper'),
  });
  return positiveQuantile(tails, p, 'lower', df + ncp);
}
