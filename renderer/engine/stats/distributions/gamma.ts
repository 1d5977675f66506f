import type { Tails } from './tails';
import { Refusal } from '../../../words';

const HALF_LOG_TWO_PI = 0.91893853320467274178;

/**
 * Error of Stirling's formula, μ(z) = ln Γ(z) − (z − ½) ln z + z − ½ ln 2π, for z > 0.
 * Asymptotic series (Abramowitz & Stegun 6.1.41) from 16 upwards, reached by the recurrence
 * μ(z) = (z + ½) ln(1 + 1/z) − 1 + μ(z + 1), whose terms are all positive.
 */
export function stirlingError(z: number): number {
  let sum = 0;
  while (z < 16) {
    sum += (z + 0.5) * Math.log1p(1 / z) - 1;
    z += 1;
  }
  const w = 1 / (z * z);
  const series =
    1 / 12 -
    w * (1 / 360 - w * (1 / 1260 - w * (1 / 1680 - w * (1 / 1188 - w * (691 / 360360 - w / 156)))));
  return sum + series / z;
}

/** ln Γ(z) for z > 0. */
export function logGamma(z: number): number {
  if (!(z > 0)) throw new Refusal(`logGamma: z is ${z}; expected a number above 0`);
  return (z - 0.5) * Math.log(z) - z + HALF_LOG_TWO_PI + stirlingError(z);
}

/**
 * x ln(x/m) + m − x without cancellation where x is near m (Loader 2000, Fast and accurate
 * computation of binomial probabilities).
 */
export function devianceTerm(x: number, m: number): number {
  if (Math.abs(x - m) < 0.1 * (x + m)) {
    const v = (x - m) / (x + m);
    let sum = (x - m) * v;
    let power = 2 * x * v;
    const v2 = v * v;
    for (let j = 1; j < 1000; j++) {
      power *= v2;
      const next = sum + power / (2 * j + 1);
      if (next === sum) return next;
      sum = next;
    }
  }
  return x * Math.log(x / m) + m - x;
}

/** x^a e^(−x) / Γ(a), good to full relative precision for large a too. */
export function gammaKernel(x: number, a: number): number {
  return Math.sqrt(a / (2 * Math.PI)) * Math.exp(-stirlingError(a) - devianceTerm(a, x));
}

const MAX_STEPS = 1_000_000;

/**
 * Regularised incomplete gamma function, both tails: lower P(a, x), upper Q(a, x), a > 0, x ≥ 0.
 * Power series below x = a + 1, Legendre's continued fraction above (Abramowitz & Stegun 6.5.29
 * and 6.5.31), so that the small tail is never formed as 1 minus the large one.
 */
export function gammaTails(x: number, a: number): Tails {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (x === Infinity) return { lower: 1, upper: 0 };
  const kernel = gammaKernel(x, a);
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let k = 1; k < MAX_STEPS; k++) {
      term *= x / (a + k);
      sum += term;
      if (term < sum * 1e-17) break;
    }
    const lower = kernel * sum;
    return { lower, upper: Math.max(0, 1 - lower) };
  }
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let h = d;
  for (let i = 1; i < MAX_STEPS; i++) {
    const an = -i * (i - a);
    b += 2;
    d = an * d + b;
    if (Math.abs(d) < tiny) d = tiny;
    c = b + an / c;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) < 2e-16) break;
  }
  const upper = kernel * h;
  return { lower: Math.max(0, 1 - upper), upper };
}
