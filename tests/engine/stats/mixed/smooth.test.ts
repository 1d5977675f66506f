import { Matrix as Dense, pseudoInverse } from 'ml-matrix';
import { dot, denseColumn, sparseDot } from '../../../../renderer/engine/stats/linear';
import { describe, expect, it } from 'vitest';
import { fitMixed, fitSmooth, type SmoothInput } from '../../../../renderer/engine/stats/mixed';
import { curvatureColumns } from '../../../../renderer/engine/stats/mixed/place/splineBasis';
import { surfaceOf } from '../../../../renderer/engine/stats/mixed/place/surface';
import { matrix } from './coding';
import { denseFit, noise } from './dense';

/** The cubic B-spline on knots 0, 1, 2, 3, 4 in its four pieces (de Boor 1978, chapter IX). */
function cardinal(t: number): number {
  if (t < 0 || t >= 4) return 0;
  if (t < 1) return t ** 3 / 6;
  if (t < 2) return (-3 * t ** 3 + 12 * t ** 2 - 12 * t + 4) / 6;
  if (t < 3) return (3 * t ** 3 - 24 * t ** 2 + 60 * t - 44) / 6;
  return (4 - t) ** 3 / 6;
}

describe('curvatureColumns', () => {
  it('has the covariance of a P-spline, B(DᵀD)⁺Bᵀ', () => {
    const segments = 4;
    const places = Float64Array.of(0, 0.3, 1, 1.5, 2.2, 3.9, 4 - 1e-12);
    const b = new Dense(
      Array.from(places, (x) =>
        Array.from({ length: segments + 3 }, (_, k) => cardinal(x - (k - 3))),
      ),
    );
    const d = Dense.zeros(segments + 1, segments + 3);
    for (let i = 0; i < d.rows; i++) {
      [1, -2, 1].forEach((value, k) => {
        d.set(i, i + k, value);
      });
    }
    const expected = b.mmul(pseudoInverse(d.transpose().mmul(d))).mmul(b.transpose());
    const z = curvatureColumns(places, segments);
    const n = places.length;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let k = 0; k <= segments; k++) sum += (z[k * n + i] ?? 0) * (z[k * n + j] ?? 0);
        expect(sum).toBeCloseTo(expected.get(i, j), 9);
      }
    }
  });
});

function bench(bend: number, seed = 5): SmoothInput {
  const rows = 6;
  const columns = 9;
  const chance = noise(2 * rows * columns, seed);
  const n = chance.length;
  const row = Float64Array.from({ length: n }, (_, i) => Math.floor(i / columns) % rows);
  const column = Float64Array.from({ length: n }, (_, i) => i % columns);
  const group = Int32Array.from({ length: n }, (_, i) => Math.floor(i / (rows * columns)));
  const y = chance.map(
    (value, i) =>
      10 +
      0.3 * (row[i] ?? 0) +
      bend * Math.sin((row[i] ?? 0) + (group[i] ?? 0)) +
      bend * Math.cos((column[i] ?? 0) / 2) +
      value,
  );
  return {
    x: matrix(Array.from({ length: n }, (_, i) => [1, Number(i % 2), Number(i >= n / 2)])),
    y,
    row,
    column,
    group,
    random: [],
    denominator: 'kenward-roger',
  };
}

const withTrends = (input: SmoothInput): ReturnType<typeof matrix> => {
  const { trends } = surfaceOf(input.row, input.column, input.group);
  const { x } = input;
  return matrix(
    Array.from({ length: x.rows }, (_, i) => [
      ...x.data.subarray(i * x.columns, (i + 1) * x.columns),
      ...trends.map((trend) => denseColumn(trend, x.rows)[i] ?? 0),
    ]),
  );
};

describe('fitSmooth', () => {
  it('is generalised least squares with V of its curvatures', () => {
    const input = bench(2);
    const fit = fitSmooth(input);
    const n = input.y.length;
    const { curvatures } = surfaceOf(input.row, input.column, input.group);
    const v = Dense.eye(n, n).mul(fit.variance.at(-1)?.variance ?? NaN);
    curvatures.forEach(({ name, columns }, k) => {
      expect(fit.variance[k]?.unit).toBe(name);
      const z = new Dense(columns.map((column) => [...denseColumn(column, n)]));
      v.add(
        z
          .transpose()
          .mmul(z)
          .mul(fit.variance[k]?.variance ?? NaN),
      );
    });
    const dense = denseFit(withTrends(input), input.y, v);
    expect(fit.logLik).toBeCloseTo(dense.logLik, 8);
    expect(fit.coefficients.length).toBe(3);
    fit.coefficients.forEach((value, j) => {
      expect(value).toBeCloseTo(dense.beta[j] ?? NaN, 8);
    });
  });

  it('is least squares with a plane in each group where nothing bends', () => {
    // A draw of pure noise in which all three curvatures happen to be at the edge.
    const input = bench(0, 3);
    const fit = fitSmooth(input);
    const plane = fitMixed({ ...input, x: withTrends(input) });
    expect(fit.variance.slice(0, -1).map(({ variance }) => variance)).toEqual([0, 0, 0]);
    expect(fit.warnings.length).toBe(3);
    expect(fit.logLik).toBeCloseTo(plane.logLik, 9);
    fit.fitted.forEach((value, i) => {
      expect(value).toBeCloseTo(plane.fitted[i] ?? NaN, 9);
    });
  });

  it('does not mind where the numbering starts, and turns with the rack', () => {
    const input = bench(1);
    const fit = fitSmooth(input);
    const shifted = fitSmooth({ ...input, row: input.row.map((r) => 40 - r) });
    const turned = fitSmooth({ ...input, row: input.column, column: input.row });
    expect(shifted.logLik).toBeCloseTo(fit.logLik, 8);
    expect(turned.logLik).toBeCloseTo(fit.logLik, 8);
    expect(turned.variance[0]?.variance).toBeCloseTo(fit.variance[1]?.variance ?? NaN, 6);
  });

  it('has curvatures with the mean variance of a pot, and none of the plane', () => {
    const { row, column, group } = bench(0);
    const { curvatures, trends } = surfaceOf(row, column, group);
    const n = row.length;
    for (const { columns } of curvatures) {
      const size = columns.reduce((sum, { values }) => sum + dot(values, values), 0);
      expect(size / n).toBeCloseTo(1, 9);
      for (const column of columns) {
        for (const trend of trends) {
          expect(Math.abs(sparseDot(column, denseColumn(trend, n), 0))).toBeLessThan(1e-9);
        }
      }
    }
  });

  it('drops what the positions do not allow', () => {
    const input = bench(1);
    const flat = fitSmooth({ ...input, row: input.row.map((r) => r % 2) });
    expect(flat.variance.map(({ unit }) => unit)).toEqual(['column curvature', 'residual']);
  });

  it('refuses positions that are missing', () => {
    const input = bench(1);
    const column = input.column.slice();
    column[7] = NaN;
    expect(() => fitSmooth({ ...input, column })).toThrow(/column in row 8 is NaN/);
  });
});
