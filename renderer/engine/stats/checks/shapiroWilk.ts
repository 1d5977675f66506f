import { normalQuantile, normalUpper } from '../distributions';
import { Refusal } from '../../../words';
import { num } from '../../entry';

export interface ShapiroWilk {
  w: number;
  p: number;
}

/** Constant term first. */
function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, c) => sum * x + c, 0);
}

/** Weights of the upper half of the order statistics, largest first (Royston 1992). */
function orderWeights(n: number): number[] {
  if (n === 3) return [Math.SQRT1_2];
  const half = Math.floor(n / 2);
  const scores: number[] = [];
  for (let i = 0; i < half; i++) scores.push(-normalQuantile((i + 1 - 0.375) / (n + 0.25)));
  const sumSquares = 2 * scores.reduce((sum, m) => sum + m * m, 0);
  const root = Math.sqrt(sumSquares);
  const u = 1 / Math.sqrt(n);
  const [m1 = 0, m2 = 0] = scores;
  const a1 = m1 / root + polynomial([0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056], u);
  if (n <= 5) {
    const scale = Math.sqrt((sumSquares - 2 * m1 * m1) / (1 - 2 * a1 * a1));
    return scores.map((m, i) => (i === 0 ? a1 : m / scale));
  }
  const a2 = m2 / root + polynomial([0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633], u);
  const scale = Math.sqrt(
    (sumSquares - 2 * m1 * m1 - 2 * m2 * m2) / (1 - 2 * a1 * a1 - 2 * a2 * a2),
  );
  return scores.map((m, i) => (i === 0 ? a1 : i === 1 ? a2 : m / scale));
}

/** p value of 1 − W by Royston's normalising transformations. */
function pValue(w: number, n: number): number {
  if (n === 3) {
    const exact = (6 / Math.PI) * (Math.asin(Math.sqrt(w)) - Math.asin(Math.sqrt(0.75)));
    return Math.min(1, Math.max(0, exact));
  }
  const lack = Math.log(1 - w);
  if (n <= 11) {
    const bound = polynomial([-2.273, 0.459], n);
    // Beyond the bound the transformation ends: W is smaller than it can be under normality.
    if (lack >= bound) return 0;
    const mean = polynomial([0.544, -0.39978, 0.025054, -6.714e-4], n);
    const sd = Math.exp(polynomial([1.3822, -0.77857, 0.062767, -0.0020322], n));
    return normalUpper((-Math.log(bound - lack) - mean) / sd);
  }
  const logN = Math.log(n);
  const mean = polynomial([-1.5861, -0.31082, -0.083751, 0.0038915], logN);
  const sd = Math.exp(polynomial([-0.4803, -0.082676, 0.0030302], logN));
  return normalUpper((lack - mean) / sd);
}

/**
 * Shapiro and Wilk's (1965) test that values (usually residuals) come from one normal
 * distribution, with the weights and p value of Royston (1995, algorithm AS R94), 3 to 5000
 * values. The p value is an approximation, good to two or three digits.
 */
export function shapiroWilk(values: readonly number[]): ShapiroWilk {
  const n = values.length;
  if (n < 3 || n > 5000) {
    throw new Refusal(`Shapiro–Wilk: ${n} values; expected 3 to 5000`);
  }
  values.forEach((value, i) => {
    if (!Number.isFinite(value)) {
      throw new Refusal(`Shapiro–Wilk: value ${i + 1} is ${value}; expected a finite number`);
    }
  });
  const sorted = [...values].sort((a, b) => a - b);
  const least = num(sorted, 0);
  const range = num(sorted, n - 1) - least;
  if (!(range > 0)) throw new Refusal('Shapiro–Wilk: all values are equal; expected some spread');
  // In units of the range, so that neither large nor tiny values lose digits.
  const x = sorted.map((value) => (value - least) / range);
  const mean = x.reduce((sum, value) => sum + value, 0) / n;
  const weights = orderWeights(n);
  let sumSquares = 0;
  for (const value of x) sumSquares += (value - mean) ** 2;
  let contrast = 0;
  let weightSquares = 0;
  weights.forEach((a, i) => {
    contrast += a * (num(x, n - 1 - i) - num(x, i));
    weightSquares += 2 * a * a;
  });
  const w = Math.min(1, (contrast * contrast) / (weightSquares * sumSquares));
  return { w, p: w === 1 ? 1 : pValue(w, n) };
}
