import { describe, expect, it } from 'vitest';
import { orthogonalPolynomials } from '../../../../renderer/engine/stats/comparisons';

// Fisher, R. A. & Yates, F. (1938) Statistical Tables, Table XXIII: the integers for equal steps.
const published: Record<number, number[][]> = {
  3: [
    [-1, 0, 1],
    [1, -2, 1],
  ],
  4: [
    [-3, -1, 1, 3],
    [1, -1, -1, 1],
    [-1, 3, -3, 1],
  ],
  5: [
    [-2, -1, 0, 1, 2],
    [2, -1, -2, -1, 2],
    [-1, 2, 0, -2, 1],
    [1, -4, 6, -4, 1],
  ],
};

describe('orthogonal polynomials', () => {
  it.each([3, 4, 5])('are in proportion to the published integers for %i equal steps', (n) => {
    const amounts = Array.from({ length: n }, (_, i) => 10 + 5 * i);
    orthogonalPolynomials(amounts, n - 1).forEach((weights, d) => {
      const wanted = published[n]?.[d] ?? [];
      const scale = (weights[n - 1] ?? 0) / (wanted[n - 1] ?? 1);
      weights.forEach((weight, i) => expect(weight).toBeCloseTo(scale * (wanted[i] ?? 0), 10));
    });
  });

  it('give back the coefficient of the highest power at uneven steps', () => {
    const amounts = [0.5, 1, 2, 5];
    const [linear, quadratic] = orthogonalPolynomials(amounts, 2);
    const y = amounts.map((x) => 7 - 3 * x + 0.25 * x * x);
    const line = amounts.map((x) => 7 - 3 * x);
    const times = (w: number[] | undefined, v: number[]) =>
      v.reduce((sum, value, i) => sum + value * (w?.[i] ?? 0), 0);
    expect(times(linear, line)).toBeCloseTo(-3, 10);
    expect(times(quadratic, y)).toBeCloseTo(0.25, 10);
    expect(times(quadratic, line)).toBeCloseTo(0, 10);
  });

  it('refuse amounts that are not different numbers', () => {
    expect(() => orthogonalPolynomials([1, 1, 2], 1)).toThrow(/two or more different numbers/);
  });
});
