import { betaTails } from './beta';
import { positiveQuantile } from './invert';
import { normalQuantile, phi } from './normal';
import { requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';

/** Both tails of Student's t on df > 0 degrees of freedom; df = Infinity is the normal. */
export function tTails(t: number, df: number): Tails {
  if (df === Infinity) return { lower: phi(t), upper: phi(-t) };
  // t² may overflow, hence the two forms of the same ratio.
  const size = Math.abs(t);
  const ratio = size > 1e150 ? Infinity : (t * t) / df;
  if (ratio === Infinity) {
    const far = size === Infinity ? 0 : farTail(size, df);
    return t > 0 ? { lower: 1, upper: far } : { lower: far, upper: 1 };
  }
  const outside = betaTails(1 / (1 + ratio), ratio / (1 + ratio), df / 2, 0.5);
  const small = outside.lower / 2;
  const large = 0.5 + outside.upper / 2;
  return t > 0 ? { lower: large, upper: small } : { lower: small, upper: large };
}

/** Leading term of the tail, exact to 1e-300 relative where t is beyond 1e150. */
function farTail(t: number, df: number): number {
  const atScale = betaTails(1e-200, 1, df / 2, 0.5).lower / 2;
  return atScale * Math.exp(-df * (Math.log(t) - Math.log(1e100) - 0.5 * Math.log(df)));
}

/** P(T ≤ t) on df degrees of freedom (df > 0 or Infinity). */
export function tLower(t: number, df: number): number {
  requirePositive('tLower', 'df', df);
  requireNumber('tLower', 't', t);
  return reportable(tTails(t, df).lower);
}

/** P(T > t) on df degrees of freedom (df > 0 or Infinity). */
export function tUpper(t: number, df: number): number {
  requirePositive('tUpper', 'df', df);
  requireNumber('tUpper', 't', t);
  return reportable(tTails(t, df).upper);
}

/** P(|T| > |t|): the two-sided p value. */
export function tTwoSided(t: number, df: number): number {
  requirePositive('tTwoSided', 'df', df);
  requireNumber('tTwoSided', 't', t);
  return reportable(2 * tTails(Math.abs(t), df).upper);
}

/** The t > 0 with P(T > t) = q, q < ½. */
function upperPoint(q: number, df: number): number {
  // Two-sided tail, so that points near zero keep their digits.
  const twoSided = (t: number): Tails => {
    const ratio = (t * t) / df;
    const outside = betaTails(1 / (1 + ratio), ratio / (1 + ratio), df / 2, 0.5);
    return { lower: outside.upper, upper: outside.lower };
  };
  return positiveQuantile(twoSided, 2 * q, 'upper', -normalQuantile(q) || 1);
}

/** The t with P(T ≤ t) = p; df > 0 or Infinity. */
export function tQuantile(p: number, df: number): number {
  requirePositive('tQuantile', 'df', df);
  requireProbability('tQuantile', p);
  if (df === Infinity) return normalQuantile(p);
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  if (p === 0.5) return 0;
  return p < 0.5 ? -upperPoint(p, df) : upperPoint(1 - p, df);
}

/** The t with P(T > t) = q; df > 0 or Infinity. */
export function tQuantileUpper(q: number, df: number): number {
  requireProbability('tQuantileUpper', q);
  return 0 - tQuantile(q, df);
}
