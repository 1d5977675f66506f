import { averageOverScale } from './chiScale';
import { positiveQuantile } from './invert';
import { logPhi, phi } from './normal';
import { requireFinite, requirePositive } from '../../require';
import { reportable, requireNumber, requireProbability, type Tails } from './tails';

/** s at which f(s) Φ(sign·(t s − ncp)) is largest, by golden section on ln s (log-concave). */
function peakOfIntegrand(t: number, df: number, ncp: number, sign: 1 | -1): number {
  const logIntegrand = (u: number): number => {
    const s = Math.exp(u);
    return df * (u - (s * s) / 2) + logPhi(sign * (t * s - ncp));
  };
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = -40;
  let high = 5;
  for (let i = 0; i < 60; i++) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (logIntegrand(left) > logIntegrand(right)) high = right;
    else low = left;
  }
  return Math.exp((low + high) / 2);
}

function tail(t: number, df: number, ncp: number, sign: 1 | -1): number {
  if (df === Infinity) return phi(sign * (t - ncp));
  if (t === 0) return phi(-sign * ncp);
  if (Math.abs(t) === Infinity) return t * sign > 0 ? 1 : 0;
  const peak = peakOfIntegrand(t, df, ncp, sign);
  // The normal factor is Gaussian in s and narrows the integrand by as much as this.
  const narrowing = (t * peak) ** 2 + Math.abs(t * ncp) * peak;
  return averageOverScale(df, (s) => phi(sign * (t * s - ncp)), peak, narrowing);
}

function noncentralTTails(t: number, df: number, ncp: number): Tails {
  return { lower: tail(t, df, ncp, 1), upper: tail(t, df, ncp, -1) };
}

function check(where: string, df: number, ncp: number): void {
  requirePositive(where, 'df', df);
  requireFinite(where, 'ncp', ncp);
}

/**
 * P(T ≤ t) of noncentral t on df degrees of freedom (df > 0 or Infinity) with noncentrality ncp,
 * the true difference over its true standard error: ∫ Φ(t s − ncp) f(s) ds. About 12 digits in
 * both tails.
 */
export function noncentralTLower(t: number, df: number, ncp: number): number {
  check('noncentralTLower', df, ncp);
  requireNumber('noncentralTLower', 't', t);
  return reportable(tail(t, df, ncp, 1));
}

/** P(T > t) of noncentral t. */
export function noncentralTUpper(t: number, df: number, ncp: number): number {
  check('noncentralTUpper', df, ncp);
  requireNumber('noncentralTUpper', 't', t);
  return reportable(tail(t, df, ncp, -1));
}

/** The t with P(T ≤ t) = p. */
export function noncentralTQuantile(p: number, df: number, ncp: number): number {
  check('noncentralTQuantile', df, ncp);
  requireProbability('noncentralTQuantile', p);
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  const belowZero = phi(-ncp);
  if (p === belowZero) return 0;
  const start = Math.max(0.1, Math.abs(ncp));
  // Solved on the side of zero where the point lies; the left side is the mirrored right.
  if (p > belowZero) {
    return positiveQuantile((t) => noncentralTTails(t, df, ncp), p, 'lower', start);
  }
  return -positiveQuantile((t) => noncentralTTails(t, df, -ncp), p, 'upper', start);
}

/** The t with P(T > t) = q. */
export function noncentralTQuantileUpper(q: number, df: number, ncp: number): number {
  return 0 - noncentralTQuantile(q, df, -ncp);
}
