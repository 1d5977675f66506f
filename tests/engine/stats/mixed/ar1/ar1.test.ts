import { Matrix as Dense } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { fitAr1, fitMixed, type Ar1Input } from '../../../../../renderer/engine/stats/mixed';
import { matrix } from '../coding';
import { denseFit, noise, unitCovariance } from '../dense';

/** Two trays of 6 × 7 whose neighbours are alike, with a few holes. */
function trays(): Ar1Input {
  const rows = 6;
  const columns = 7;
  const rough = noise(2 * rows * columns, 3);
  const own = noise(2 * rows * columns, 11);
  const smooth = new Float64Array(rough.length);
  const out = { rows: [] as number[][], y: [] as number[] };
  const place = { row: [] as number[], column: [] as number[], group: [] as number[] };
  for (let i = 0; i < rough.length; i++) {
    const r = Math.floor(i / columns) % rows;
    const c = i % columns;
    const up = r > 0 ? (smooth[i - columns] ?? 0) : 0;
    const left = c > 0 ? (smooth[i - 1] ?? 0) : 0;
    const corner = r > 0 && c > 0 ? (smooth[i - columns - 1] ?? 0) : 0;
    smooth[i] = 0.7 * up + 0.5 * left - 0.35 * corner + (rough[i] ?? 0);
    if (i % 11 === 5) continue;
    out.rows.push([1, Number(i % 3 === 1), Number(i % 3 === 2)]);
    out.y.push(30 + 3 * (smooth[i] ?? 0) + (own[i] ?? 0));
    place.row.push(r + 1);
    place.column.push(c + 1);
    place.group.push(Math.floor(i / (rows * columns)));
  }
  return {
    x: matrix(out.rows),
    y: Float64Array.from(out.y),
    row: Float64Array.from(place.row),
    column: Float64Array.from(place.column),
    group: Int32Array.from(place.group),
    denominator: 'asymptotic',
  };
}

function covariance(input: Ar1Input, [s, r, c, g]: readonly number[]): Dense {
  const n = input.y.length;
  const v = Dense.eye(n, n).mul(g ?? 0);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      if (input.group[i] !== input.group[j]) continue;
      const down = Math.abs((input.row[i] ?? 0) - (input.row[j] ?? 0));
      const across = Math.abs((input.column[i] ?? 0) - (input.column[j] ?? 0));
      v.set(i, j, v.get(i, j) + (s ?? 0) * (r ?? 0) ** down * (c ?? 0) ** across);
    }
  }
  return v;
}

describe('fitAr1', () => {
  const input = trays();
  const fit = fitAr1(input);
  const { spatialVariance, rowCorrelation, columnCorrelation, nugget } = fit.spatial;
  const best = [spatialVariance, rowCorrelation, columnCorrelation, nugget];

  it('stands on the top of the textbook likelihood', () => {
    const at = (p: number[]): number => denseFit(input.x, input.y, covariance(input, p)).logLik;
    expect(fit.logLik).toBeCloseTo(at(best), 9);
    best.forEach((value, k) => {
      const step = value * 1e-3;
      const up = at(best.map((v, l) => (l === k ? v + step : v)));
      const down = at(best.map((v, l) => (l === k ? v - step : v)));
      expect(up).toBeLessThan(fit.logLik);
      expect(down).toBeLessThan(fit.logLik);
      expect(Math.abs(up - down) / (2 * 1e-3)).toBeLessThan(1e-3);
    });
  });

  it('gives the textbook generalised least squares at its parameters', () => {
    const dense = denseFit(input.x, input.y, covariance(input, best));
    dense.beta.forEach((value, j) => {
      expect(fit.coefficients[j]).toBeCloseTo(value, 8);
      expect(fit.covariance.data[j * 4]).toBeCloseTo(dense.covariance.get(j, j), 8);
    });
  });

  it('takes trays as independent: as if they stood a thousand rows apart', () => {
    const apart = fitAr1({
      ...input,
      row: input.row.map((row, i) => row + 1000 * (input.group[i] ?? 0)),
      group: new Int32Array(input.y.length),
    });
    expect(apart.logLik).toBeCloseTo(fit.logLik, 9);
    expect(apart.spatial.rowCorrelation).toBeCloseTo(rowCorrelation, 8);
  });

  it('knows no difference between rows and columns', () => {
    const turned = fitAr1({ ...input, row: input.column, column: input.row });
    expect(turned.logLik).toBeCloseTo(fit.logLik, 9);
    expect(turned.spatial.rowCorrelation).toBeCloseTo(columnCorrelation, 8);
    expect(turned.spatial.columnCorrelation).toBeCloseTo(rowCorrelation, 8);
  });

  it('leaves the correlation along rows alone where there is only one row', () => {
    const one = fitAr1({
      ...input,
      row: new Float64Array(input.y.length).fill(1),
      group: Int32Array.from(input.row, (row, i) => row + 100 * (input.group[i] ?? 0)),
    });
    expect(one.spatial.rowCorrelation).toBe(0);
    expect(one.warnings.join()).toContain('no two rows');
  });

  it('is least squares, and says so, where neighbours differ most', () => {
    // Neighbours along the row alternate; positions between whole steps allow no negative ρ.
    const n = 24;
    const y = Float64Array.from({ length: n }, (_, i) => (i % 2 === 0 ? 1 : -1) + (i % 5) / 10);
    const plain = fitAr1({
      x: matrix(Array.from({ length: n }, () => [1])),
      y,
      row: new Float64Array(n),
      column: Float64Array.from({ length: n }, (_, i) => i / 2),
      group: new Int32Array(n),
      denominator: 'kenward-roger',
    });
    expect(plain.spatial.spatialVariance).toBe(0);
    expect(plain.warnings[0]).toContain('no more alike');
    const mean = y.reduce((a, b) => a + b, 0) / n;
    const variance = y.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1);
    expect(plain.spatial.nugget).toBeCloseTo(variance, 9);
    const found = plain.estimate(Float64Array.of(1));
    expect(found.df).toBeCloseTo(n - 1, 9);
    expect(found.se).toBeCloseTo(Math.sqrt(variance / n), 9);
  });

  it('keeps a unit apart from the likeness of neighbours', () => {
    // Trays that differ by much more than their neighbours do.
    const y = input.y.map((value, i) => value + 20 * (input.group[i] ?? 0));
    const benches = Int32Array.from(input.group, (tray, i) => 3 * tray + ((input.row[i] ?? 0) % 3));
    const random = [{ unit: 'bench', codes: benches, levels: 6 }];
    const lifted = y.map((value, i) => value + 6 * Math.sin(5 * (benches[i] ?? 0)));
    for (const denominator of ['satterthwaite', 'kenward-roger'] as const) {
      const found = fitAr1({ ...input, y: lifted, random, denominator });
      expect(found.variance.map(({ unit }) => unit)).toEqual(['bench', 'spatial', 'residual']);
      const [bench = 0] = found.variance.map(({ variance }) => variance);
      const { spatial } = found;
      const p = [
        spatial.spatialVariance,
        spatial.rowCorrelation,
        spatial.columnCorrelation,
        spatial.nugget,
      ];
      expect(bench).toBeGreaterThan(0);
      const at = (q: number[], b: number): number =>
        denseFit(input.x, lifted, covariance(input, q).add(unitCovariance([benches], [b], 0)))
          .logLik;
      expect(found.logLik).toBeCloseTo(at(p, bench), 9);
      expect(at(p, bench * 1.001)).toBeLessThan(found.logLik);
      expect(at(p, bench * 0.999)).toBeLessThan(found.logLik);
      p.forEach((value, k) => {
        if (!(value > 0)) return;
        const shift = (by: number): number[] => p.map((v, l) => (l === k ? v * by : v));
        expect(at(shift(1.001), bench)).toBeLessThan(found.logLik);
        expect(at(shift(0.999), bench)).toBeLessThan(found.logLik);
      });
    }
  });

  it('is the plain mixed model where neighbours are unrelated beside their unit', () => {
    const chance = noise(60, 8);
    const trays = Int32Array.from({ length: 60 }, (_, i) => Math.floor(i / 10));
    const y = chance.map((value, i) => value + 3 * Math.cos(9 * (trays[i] ?? 0)) + 3 * (i % 2));
    const random = [{ unit: 'tray', codes: trays, levels: 6 }];
    const x = matrix(Array.from({ length: 60 }, (_, i) => [1, Number(i % 5 === 0)]));
    const common = { x, y, random, denominator: 'kenward-roger' as const };
    const found = fitAr1({
      ...common,
      row: new Float64Array(60),
      // Half steps: an alternation along them cannot be a negative correlation.
      column: Float64Array.from({ length: 60 }, (_, i) => (i % 10) / 2),
      group: trays,
    });
    const plain = fitMixed(common);
    expect(found.spatial.spatialVariance).toBe(0);
    expect(found.logLik).toBe(plain.logLik);
    expect(found.estimate(Float64Array.of(0, 1))).toEqual(plain.estimate(Float64Array.of(0, 1)));
    // Two more correlations or variances were asked for.
    expect(found.aic).toBeCloseTo(plain.aic + 4, 9);
  });

  it('refuses positions that are missing', () => {
    const row = input.row.slice();
    row[2] = NaN;
    expect(() => fitAr1({ ...input, row })).toThrow(/row in row 3 is NaN/);
    expect(() => fitAr1({ ...input, column: input.column.slice(1) })).toThrow(/values of column/);
  });
});
