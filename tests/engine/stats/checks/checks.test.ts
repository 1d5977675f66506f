import { describe, expect, it } from 'vitest';
import {
  bartlett,
  brownForsythe,
  levene,
  moran,
  shapiroWilk,
} from '../../../../renderer/engine/stats/checks';

describe('Shapiro–Wilk', () => {
  it('three values: W and p have a closed form', () => {
    // W = ((x3 − x1)² / 2) / SS; p = (6/π)(asin √W − asin √¾) (Shapiro & Wilk 1965, section 2.3).
    const { w, p } = shapiroWilk([4, 1, 2]);
    const exact = 9 / 2 / (14 / 3);
    expect(w).toBeCloseTo(exact, 12);
    expect(p).toBeCloseTo((6 / Math.PI) * (Math.asin(Math.sqrt(exact)) - Math.PI / 3), 12);
  });

  it('does not change when the values are shifted and scaled', () => {
    const values = [2.1, 3.3, 2.2, 5.9, 4.4, 3.8, 2.9, 12.5];
    const plain = shapiroWilk(values);
    const moved = shapiroWilk(values.map((value) => 1000 - 7 * value));
    expect(moved.w).toBeCloseTo(plain.w, 11);
    expect(moved.p).toBeCloseTo(plain.p, 11);
  });

  it('refuses what it cannot judge', () => {
    expect(() => shapiroWilk([1, 2])).toThrow('2 values; expected 3 to 5000');
    expect(() => shapiroWilk([3, 3, 3])).toThrow('all values are equal');
    expect(() => shapiroWilk([3, Number.NaN, 4])).toThrow('finite');
  });
});

describe('spread tests', () => {
  it('two groups: Levene is the square of t on the distances', () => {
    // Distances from the means 3 and 10: [2, 0, 2, 1, 1] and [4, 4, 1, 1, 0]; by hand.
    const values = [1, 3, 5, 2, 4, 6, 14, 9, 11, 10];
    const groups = [...'aaaaabbbbb'];
    const t2 = (2 - 1.2) ** 2 / (((2.8 + 14) / 8) * (1 / 5 + 1 / 5));
    expect(levene(values, groups).statistic).toBeCloseTo(t2, 12);
  });

  it('refuses what it cannot judge', () => {
    expect(() => levene([1, 2, 3], ['a', 'a', 'a'])).toThrow('1 groups; expected two or more');
    expect(() => brownForsythe([1, 2, 5, 9], ['a', 'a', 'b', 'b'])).toThrow('do not vary');
    expect(() => bartlett([1, 2, 5], ['a', 'a', 'b'])).toThrow('group b has 1 values');
    expect(() => levene([1], ['a', 'b'])).toThrow('1 values but 2 group names');
  });
});

describe("Moran's I", () => {
  // A 4 × 5 grid with two holes, which leave the corner pot at row 1, column 5 without a rook
  // neighbour. R: spdep 1.2.7 moran.test(y, nb2listw(dnearneigh(cbind(col, row), 0, 1.1 or 1.5),
  // style = "W", zero.policy = TRUE), randomisation = TRUE, alternative = "two.sided").
  const y = [3.1, 2.7, 4.4, NaN, 3.3, 2.9, 3.8, 4.1, 4.6, NaN].concat([
    2.2, 3.0, 3.6, 4.9, 5.2, 2.5, 2.8, 3.3, 4.0, 6.1,
  ]);
  const pots = y.flatMap((value, k) =>
    Number.isNaN(value) ? [] : [{ value, row: 1 + Math.floor(k / 5), column: 1 + (k % 5) }],
  );
  const input = {
    values: pots.map((pot) => pot.value),
    rows: pots.map((pot) => pot.row),
    columns: pots.map((pot) => pot.column),
  };

  it('a pot that stands alone', () => {
    const got = moran({ ...input, neighbours: 'rook' });
    expect(got.i).toBeCloseTo(0.630985697302794857, 13);
    expect(got.expected).toBeCloseTo(-0.0625, 14);
    expect(got.variance).toBeCloseTo(0.033930031595455989, 13);
    expect(got.p / 0.000166662396855569).toBeCloseTo(1, 10);
    expect(got.withoutNeighbours).toBe(1);
  });

  it('corner neighbours', () => {
    const got = moran({ ...input, neighbours: 'queen' });
    expect(got.i).toBeCloseTo(0.5408750124485281, 13);
    expect(got.variance).toBeCloseTo(0.01762572317259322, 13);
    expect(got.p / 6.269287173888952e-6).toBeCloseTo(1, 10);
    expect(got.withoutNeighbours).toBe(0);
  });

  it('pots of different trays are no neighbours', () => {
    const [rows, columns] = [
      [1, 1, 1, 1, 1, 1, 1, 1],
      [1, 2, 3, 4, 5, 6, 7, 8],
    ];
    const values = [1, 2, 1, 2, 9, 8, 9, 7];
    const groups = [...'aaaabbbb'];
    const apart = moran({ values, rows, columns, groups, neighbours: 'rook' });
    // The same two rows of four set far apart.
    const far = moran({
      values,
      rows: [1, 1, 1, 1, 9, 9, 9, 9],
      columns: [1, 2, 3, 4, 1, 2, 3, 4],
      neighbours: 'rook',
    });
    expect(apart).toEqual(far);
    expect(moran({ values, rows, columns, neighbours: 'rook' }).i).not.toBeCloseTo(apart.i, 3);
  });

  it('refuses what it cannot judge', () => {
    const three = { rows: [1, 1, 1], columns: [1, 2, 3], neighbours: 'rook' as const };
    expect(() => moran({ ...three, values: [1, 2, 4] })).toThrow('3 values have neighbours');
    expect(() => moran({ ...three, values: [1, 1, 1] })).toThrow('all values are equal');
    expect(() => moran({ ...three, columns: [1, 2, 2], values: [1, 2, 4] })).toThrow(
      'two values at row 1, column 2',
    );
    expect(() => moran({ ...three, values: [1, 2] })).toThrow('2 values but 3 rows');
  });
});
