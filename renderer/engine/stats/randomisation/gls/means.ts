import type { Design } from '../../design';
import { estimateLinear, unscaledCovariance } from '../../linear';
import type { Estimate } from '../../model';
import type { KnownCovariance } from '../covariance';
import { leftOver, whitened } from './whitened';

/**
 * Any combination of a design's coefficients by generalised least squares with a covariance known but
 * for its size, at the mean of the trends.
 */
export function glsEstimates(
  { x, y }: Design,
  covariance: KnownCovariance,
): (weights: Float64Array) => Estimate {
  const found = whitened(x, y, covariance);
  const { qr, turned, rank } = found;
  const own = qr.solveUpper(turned);
  const coefficients = new Float64Array(qr.columns).fill(NaN);
  qr.kept.forEach((j, k) => (coefficients[j] = own[k] ?? NaN));
  const df = y.length - rank;
  const ofThem = unscaledCovariance(qr, leftOver(found) / df);
  return (weights) => {
    const padded = new Float64Array(qr.columns);
    padded.set(weights);
    return estimateLinear(padded, coefficients, ofThem, df);
  };
}
