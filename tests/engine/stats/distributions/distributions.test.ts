import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as d from '../../../../renderer/engine/stats/distributions';

const near = (got: number, expected: number, relative: number): void => {
  expect(Math.abs(got / expected - 1), `${got} against ${expected}`).toBeLessThan(relative);
};

describe('infinite degrees of freedom', () => {
  it('t becomes the normal and F the chi-square over its df', () => {
    expect(d.tUpper(1.7, Infinity)).toBe(d.normalUpper(1.7));
    expect(d.tQuantile(0.975, Infinity)).toBe(d.normalQuantile(0.975));
    expect(d.fUpper(2.3, 4, Infinity)).toBe(d.chiSquareUpper(9.2, 4));
    near(d.fQuantileUpper(0.05, 4, Infinity), d.chiSquareQuantileUpper(0.05, 4) / 4, 1e-13);
    expect(d.noncentralFUpper(2.3, 4, Infinity, 5)).toBe(d.noncentralChiSquareUpper(9.2, 4, 5));
    near(d.fLower(0.7, Infinity, 9), d.chiSquareUpper(9 / 0.7, 9), 1e-14);
  });
});

describe('identities between distributions', () => {
  it('F on 1 and n is the square of t on n', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        fc.integer({ min: 1, max: 500 }),
        (t, n) => {
          near(d.fUpper(t * t, 1, n), d.tTwoSided(t, n), 1e-11);
        },
      ),
    );
  });

  it('F turned over swaps its degrees of freedom and its tails', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        fc.double({ min: 0.5, max: 300, noNaN: true }),
        fc.double({ min: 0.5, max: 300, noNaN: true }),
        (x, a, b) => {
          near(d.fUpper(x, a, b), d.fLower(1 / x, b, a), 1e-10);
        },
      ),
    );
  });

  it('the square of noncentral t is noncentral F', () => {
    for (const [t, n, ncp] of [
      [2.1, 14, 1.2],
      [2.8, 3, 3.4],
      [1.96, 400, 2.8],
    ] as const) {
      near(
        d.noncentralFUpper(t * t, 1, n, ncp * ncp),
        d.noncentralTUpper(t, n, ncp) + d.noncentralTLower(-t, n, ncp),
        1e-12,
      );
    }
  });

  it('quantiles undo tails, with fractional df', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-12, max: 0.999, noNaN: true }),
        fc.double({ min: 0.7, max: 200, noNaN: true }),
        (q, n) => {
          near(d.tUpper(d.tQuantileUpper(q, n), n), q, 1e-9);
          near(d.chiSquareUpper(d.chiSquareQuantileUpper(q, n), n), q, 1e-9);
          near(d.fUpper(d.fQuantileUpper(q, 3, n), 3, n), q, 1e-9);
        },
      ),
    );
  });
});

describe("Dunnett's distribution", () => {
  const equal = (k: number): number[] => d.dunnettLoadings(Array<number>(k).fill(8), 8);

  it("gives the two-sided critical values of Dunnett's table", () => {
    // Dunnett, C. W. (1964) New tables for multiple comparisons with a control, Biometrics 20,
    // 482-491: two-sided, 5 % and 1 %, printed to two decimals.
    const table = [
      [2, 5, 3.03, 4.63],
      [3, 10, 2.76, 3.74],
      [2, 60, 2.27, 2.9],
      [9, Infinity, 2.69, 3.22],
    ] as const;
    for (const [k, df, five, one] of table) {
      expect(d.dunnettQuantile(0.95, equal(k), df)).toBeCloseTo(five, 2);
      expect(d.dunnettQuantile(0.99, equal(k), df)).toBeCloseTo(one, 2);
    }
  });

  it('keeps its digits in the far tail with unequal numbers', () => {
    // Adaptive double quadrature with 25 digits (mpmath), loadings as given.
    near(d.dunnettUpper(9, [0.7, 0.3], 7), 8.2443339624536563533614e-5, 1e-12);
    near(d.dunnettUpper(20, [0.9, 0.5, 0.5], 12), 4.036471526677197747e-10, 1e-12);
  });

  // R 4.2.2: integrate() over z between the bends of the integrand, trapezium rule in ln s; the
  // first two also by mvtnorm::pmvt (GenzBretz), 0.0567231 and 0.0597482, to 3e-7.
  it('holds where comparisons correlate nearly wholly', () => {
    const alike = (k: number, r: number): number[] => Array<number>(k).fill(Math.sqrt(r));
    near(d.dunnettUpper(2.2, alike(3, 0.9998), 9), 0.056723048347929, 1e-12);
    near(d.dunnettUpper(2.2, alike(3, 0.998), 9), 0.059748357729388, 1e-12);
    near(d.dunnettUpper(30, alike(4, 0.99), 3), 9.7728169744956e-5, 1e-7);
  });

  it('with one comparison is the two-sided t', () => {
    for (const df of [1, 6, 45, Infinity])
      near(d.dunnettUpper(2.2, [0.6], df), d.tTwoSided(2.2, df), 1e-12);
  });

  it('with nothing in common is the product of independent ones', () => {
    near(d.dunnettLower(1.3, [0, 0, 0], Infinity), (1 - d.tTwoSided(1.3, Infinity)) ** 3, 1e-13);
  });
});

describe('ends and impossible input', () => {
  it('gives the ends of the range for probabilities 0 and 1', () => {
    expect(d.tQuantile(0, 5)).toBe(-Infinity);
    expect(d.fQuantileUpper(0, 3, 9)).toBe(Infinity);
    expect(d.studentizedRangeQuantile(0, 3, 9)).toBe(0);
    expect(d.fUpper(0, 3, 9)).toBe(1);
    expect(d.chiSquareLower(Infinity, 3)).toBe(1);
  });

  it('reports tails under 1e-300 as 0', () => {
    expect(d.normalUpper(37.1)).toBe(0);
    expect(d.normalUpper(37)).toBeGreaterThan(1e-300);
  });

  it('names what was wrong', () => {
    expect(() => d.tUpper(1, 0)).toThrow('tUpper: df is 0; expected a number above 0');
    expect(() => d.fUpper(Number.NaN, 1, 1)).toThrow('fUpper: x is not a number');
    expect(() => d.fQuantile(1.2, 1, 1)).toThrow('probability is 1.2');
    expect(() => d.studentizedRangeUpper(3, 1, 9)).toThrow('groups is 1');
    expect(() => d.dunnettUpper(3, [1], 9)).toThrow('loading is 1');
    expect(() => d.noncentralFUpper(3, 1, 9, -1)).toThrow('ncp is -1');
    expect(() => d.chiSquareUpper(3, Infinity)).toThrow('df is Infinity');
  });
});
