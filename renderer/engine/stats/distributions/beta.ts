import { devianceTerm, stirlingError } from './gamma';
import type { Tails } from './tails';

/**
 * x^a y^b / B(a, b) with y = 1 − x given separately, by Loader's saddle-point form, which keeps
 * its digits for a and b in the tens of thousands.
 */
export function betaKernel(x: number, y: number, a: number, b: number): number {
  const n = a + b;
  const exponent =
    stirlingError(n) -
    stirlingError(a) -
    stirlingError(b) -
    devianceTerm(a, n * x) -
    devianceTerm(b, n * y);
  // a·b/n in an order that cannot overflow.
  return Math.sqrt((a * (b / n)) / (2 * Math.PI)) * Math.exp(exponent);
}

/**
 * Continued fraction of the incomplete beta in the form of DiDonato & Morris (1992, eq. 9):
 * I_x(a, b) = kernel × fraction, for lambda = a − (a + b) x ≥ 0. Written in lambda it keeps its
 * digits where one parameter is large and x near 1, which the textbook form does not.
 */
function betaFraction(x: number, y: number, a: number, b: number, lambda: number): number {
  const c = 1 + lambda;
  const c0 = b / a;
  const c1 = 1 + 1 / a;
  let p = 1;
  let s = a + 1;
  let upperBefore = 0;
  let lowerBefore = 1;
  let lower = c / c1;
  let ratio = c1 / c;
  let upper = 1;
  for (let n = 1; n < 1_000_000; n++) {
    const t = n / a;
    const w = n * (b - n) * x;
    const e = a / s;
    const alpha = p * (p + c0) * e * e * (w * x);
    const beta = n + w / s + ((1 + t) / (c1 + t + t)) * (c + n * (1 + y));
    p = 1 + t;
    s += 2;
    const upperNext = alpha * upperBefore + beta * upper;
    const lowerNext = alpha * lowerBefore + beta * lower;
    const before = ratio;
    ratio = upperNext / lowerNext;
    if (Math.abs(ratio - before) <= 1e-16 * ratio) break;
    // Rescaled so that the convergents neither overflow nor vanish.
    upperBefore = upper / lowerNext;
    lowerBefore = lower / lowerNext;
    upper = ratio;
    lower = 1;
  }
  return ratio;
}

/**
 * Regularised incomplete beta function, both tails: lower I_x(a, b), upper I_y(b, a), with
 * y = 1 − x passed by the caller, who knows it without cancellation. a, b > 0; x, y in [0, 1].
 */
export function betaTails(x: number, y: number, a: number, b: number): Tails {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (y <= 0) return { lower: 1, upper: 0 };
  const kernel = betaKernel(x, y, a, b);
  // Whichever of x and y is the smaller carries the digits.
  const lambda = x <= y ? a - (a + b) * x : (a + b) * y - b;
  if (lambda >= 0) {
    const lower = kernel * betaFraction(x, y, a, b, lambda);
    return { lower, upper: Math.max(0, 1 - lower) };
  }
  const upper = kernel * betaFraction(y, x, b, a, -lambda);
  return { lower: Math.max(0, 1 - upper), upper };
}
