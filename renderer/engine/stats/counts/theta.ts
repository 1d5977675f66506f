import { real } from '../../entry';
/** θ beyond which the counts are Poisson for every purpose. */
export const MOST_THETA = 1e8;

/**
 * The θ that maximises the negative binomial likelihood for given means, Newton's method on
 * log θ with halving. Γ(y+θ)/Γ(θ) is a finite product for whole y, so that its derivatives are
 * finite sums. Returns MOST_THETA where the likelihood still rises there.
 */
export function maximiseTheta(y: Float64Array, mu: Float64Array, start: number): number {
  let low = Math.log(1e-8);
  let high = Math.log(MOST_THETA);
  if (slope(y, mu, Math.exp(high)).first > 0) return MOST_THETA;
  let t = Math.min(Math.max(Math.log(start), low), high);
  for (let step = 0; step < 200; step++) {
    const theta = Math.exp(t);
    const { first, second } = slope(y, mu, theta);
    if (first > 0) low = t;
    else high = t;
    const gradient = first * theta;
    const curvature = second * theta * theta + gradient;
    let next = t - gradient / curvature;
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (Math.abs(next - t) < 1e-13 * Math.max(1, Math.abs(t))) return Math.exp(next);
    t = next;
  }
  return Math.exp(t);
}

/** First and second derivative of the log-likelihood with respect to θ. */
function slope(
  y: Float64Array,
  mu: Float64Array,
  theta: number,
): { first: number; second: number } {
  let first = 0;
  let second = 0;
  for (let i = 0; i < y.length; i++) {
    const count = real(y, i);
    const m = mu[i] ?? 1;
    for (let k = 0; k < count; k++) {
      first += 1 / (theta + k);
      second -= 1 / (theta + k) ** 2;
    }
    first += -Math.log1p(m / theta) + (m - count) / (m + theta);
    second += m / (theta * (theta + m)) - (m - count) / (m + theta) ** 2;
  }
  return { first, second };
}

/** θ from the variance of the counts about their means, to start from. */
export function momentTheta(y: Float64Array, mu: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < y.length; i++) sum += (real(y, i) / (mu[i] ?? 1) - 1) ** 2;
  return y.length / Math.max(sum, 1e-8);
}
