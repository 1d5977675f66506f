import { findRoot, fQuantileUpper, noncentralFUpper } from '../../stats/distributions';
import { Refusal } from '../../../words';

export interface TermInStratum {
  /** Degrees of freedom of the term. */
  dfEffect: number;
  /** Degrees of freedom of the error of the term's stratum; may be Infinity. */
  dfError: number;
  /** Level of the test. */
  alpha: number;
}

function check({ dfEffect, dfError, alpha }: TermInStratum): void {
  if (!(dfEffect >= 1 && dfEffect < Infinity)) {
    throw new Refusal(`power: degrees of freedom of the term are ${dfEffect}; expected 1 or more`);
  }
  if (!(dfError > 0)) {
    throw new Refusal(`power: degrees of freedom for error are ${dfError}; expected above 0`);
  }
  if (!(alpha > 0 && alpha < 1)) {
    throw new Refusal(`power: alpha is ${alpha}; expected between 0 and 1`);
  }
}

/** The F above which a term is called different at level alpha. */
export function criticalF(stratum: TermInStratum): number {
  check(stratum);
  return fQuantileUpper(stratum.alpha, stratum.dfEffect, stratum.dfError);
}

/**
 * Power of the F test of one term: P(noncentral F > critical F). The noncentrality is the sum over
 * all units of the stratum of (effect of its treatment)², over the variance of a unit there:
 *
 * - pots as units, N in all: N f², f the SD of the effects (divisor: number of cells) over sd;
 * - a factor on trays of m pots, r blocks: r m Σ effect² / (σ²pot + m σ²tray).
 */
export function powerOfTerm(stratum: TermInStratum & { noncentrality: number }): number {
  const { dfEffect, dfError, noncentrality } = stratum;
  if (!(noncentrality >= 0 && noncentrality < Infinity)) {
    throw new Refusal(`power: noncentrality is ${noncentrality}; expected a finite number from 0`);
  }
  const critical = criticalF(stratum);
  if (isCertain(critical, dfEffect, dfError, noncentrality)) return 1;
  return noncentralFUpper(critical, dfEffect, dfError, noncentrality);
}

/**
 * Whether the power differs from 1 by less than rounding. With Y = χ²(df error)/df error,
 * P(F ≤ c) ≤ P(√(c df k) ≥ √λ + Z) + P(Y > k), and P(Y > k) ≤ exp(−df (k − 1 − ln k)/2) (Chernoff).
 * The series of the exact probability would take about λ terms.
 */
function isCertain(critical: number, df: number, dfError: number, noncentrality: number): boolean {
  if (noncentrality < 100) return false;
  // The normal's tail beyond 8.3 and the other bound beyond exp(−37) are both below 1e-16.
  let k = 2;
  while ((dfError * (k - 1 - Math.log(k))) / 2 < 37) k *= 2;
  return Math.sqrt(noncentrality) > Math.sqrt(critical * df * k) + 8.3;
}

/** The noncentrality at which the test of a term has the given power (above alpha, below 1). */
export function detectableNoncentrality(stratum: TermInStratum & { power: number }): number {
  const { dfEffect, dfError, alpha, power } = stratum;
  const critical = criticalF(stratum);
  if (!(power > alpha && power < 1)) {
    throw new Refusal(`power: ${power} asked for; expected between alpha ${alpha} and 1`);
  }
  const gap = (noncentrality: number): number =>
    noncentralFUpper(critical, dfEffect, dfError, noncentrality) - power;
  let high = 8;
  while (gap(high) < 0) {
    high *= 2;
    if (high > 1e9) {
      throw new Refusal(`power: ${power} cannot be reached on ${dfError} degrees of freedom`);
    }
  }
  return findRoot(gap, 0, high);
}
