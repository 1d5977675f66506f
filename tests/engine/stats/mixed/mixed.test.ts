import { describe, expect, it } from 'vitest';
import { fitMixed, type MixedInput } from '../../../../renderer/engine/stats/mixed';
import { matrix } from './coding';
import { denseFit, noise, unitCovariance } from './dense';

/** Trays in shelves, both with variation of their own; treatment by tray, variety by pot. */
function trial(pots: number, dead: readonly number[] = []) {
  const shelves = 4;
  const trays = 16;
  const chance = noise(trays * pots + trays, 4);
  const rows: number[][] = [];
  const y: number[] = [];
  const shelf: number[] = [];
  const tray: number[] = [];
  for (let i = 0; i < trays * pots; i++) {
    if (dead.includes(i)) continue;
    const t = Math.floor(i / pots);
    const feed = t % 2;
    const variety = i % 3;
    rows.push([1, feed, Number(variety === 1), Number(variety === 2)]);
    shelf.push(Math.floor(t / 4));
    tray.push(t);
    y.push(
      20 +
        1.5 * feed +
        variety +
        2 * (chance[i] ?? 0) +
        2.5 * (chance[trays * pots + t] ?? 0) +
        ([5, -4, 2, -6][Math.floor(t / 4)] ?? 0),
    );
  }
  const input: MixedInput = {
    x: matrix(rows),
    y: Float64Array.from(y),
    random: [
      { unit: 'shelf', codes: Int32Array.from(shelf), levels: shelves },
      { unit: 'tray', codes: Int32Array.from(tray), levels: trays },
    ],
    denominator: 'satterthwaite',
  };
  return input;
}

const variances = (fit: ReturnType<typeof fitMixed>): number[] =>
  fit.variance.map(({ variance }) => variance);

describe('fitMixed', () => {
  const input = trial(6, [3, 17, 18, 40, 41, 42, 90]);
  const codes = input.random.map((unit) => unit.codes);
  const fit = fitMixed(input);

  it('gives the textbook generalised least squares at its variances', () => {
    const [shelf = 0, tray = 0, residual = 0] = variances(fit);
    const dense = denseFit(input.x, input.y, unitCovariance(codes, [shelf, tray], residual));
    expect(fit.logLik).toBeCloseTo(dense.logLik, 9);
    dense.beta.forEach((value, j) => {
      expect(fit.coefficients[j]).toBeCloseTo(value, 9);
      for (let k = 0; k < 4; k++) {
        expect(fit.covariance.data[j * 4 + k]).toBeCloseTo(dense.covariance.get(j, k), 9);
      }
    });
  });

  it('stands on the top of the textbook likelihood', () => {
    const best = variances(fit);
    expect(best.every((v) => v > 0)).toBe(true);
    const at = (v: number[]): number =>
      denseFit(input.x, input.y, unitCovariance(codes, v.slice(0, 2), v[2] ?? 0)).logLik;
    best.forEach((value, k) => {
      const step = value * 1e-3;
      const up = at(best.map((v, l) => (l === k ? v + step : v)));
      const down = at(best.map((v, l) => (l === k ? v - step : v)));
      expect(up).toBeLessThan(fit.logLik);
      expect(down).toBeLessThan(fit.logLik);
      // Central difference: zero up to the third derivative's share.
      expect(Math.abs(up - down) / (2 * 1e-3)).toBeLessThan(1e-4);
    });
  });

  it('leaves nothing of the fixed effects in the residuals', () => {
    // y − fitted is σ²V⁻¹(y − Xβ), and XᵀV⁻¹(y − Xβ) = 0 are the normal equations.
    for (let j = 0; j < 4; j++) {
      let sum = 0;
      fit.fitted.forEach((value, i) => {
        sum += (input.x.data[i * 4 + j] ?? 0) * ((input.y[i] ?? 0) - value);
      });
      expect(Math.abs(sum)).toBeLessThan(1e-9);
    }
  });

  it('finds the variances and df of the analysis of variance where trays are balanced', () => {
    const { x, y, random } = trial(6);
    const [, tray] = random;
    if (tray === undefined) throw new Error('no trays');
    const one = fitMixed({ x, y, random: [tray], denominator: 'satterthwaite' });
    const other = fitMixed({ x, y, random: [tray], denominator: 'kenward-roger' });
    // Mean squares by hand: trays within feeds on 14 df; pots within trays less variety on 78.
    const means = new Float64Array(16);
    y.forEach((value, i) => {
      const t = tray.codes[i] ?? 0;
      means[t] = (means[t] ?? 0) + value / 6;
    });
    const ofFeed = [0, 1].map(
      (feed) => means.filter((_, t) => t % 2 === feed).reduce((a, b) => a + b, 0) / 8,
    );
    const between =
      (6 * means.reduce((sum, m, t) => sum + (m - (ofFeed[t % 2] ?? 0)) ** 2, 0)) / 14;
    const grand = means.reduce((a, b) => a + b, 0) / 16;
    const ofVariety = [0, 1, 2].map(
      (v) => y.filter((_, i) => i % 3 === v).reduce((a, b) => a + b, 0) / 32 - grand,
    );
    const within =
      y.reduce(
        (sum, value, i) =>
          sum + (value - (means[tray.codes[i] ?? 0] ?? 0) - (ofVariety[i % 3] ?? 0)) ** 2,
        0,
      ) / 78;
    const [trayVariance = 0, residual = 0] = variances(one);
    expect(residual / within).toBeCloseTo(1, 9);
    expect(trayVariance / ((between - within) / 6)).toBeCloseTo(1, 9);
    for (const model of [one, other]) {
      const feed = model.estimate(Float64Array.of(0, 1, 0, 0));
      expect(feed.df).toBeCloseTo(14, 6);
      expect(feed.se ** 2 / ((between * 2) / 48)).toBeCloseTo(1, 9);
      expect(model.estimate(Float64Array.of(0, 0, 1, 0)).df).toBeCloseTo(78, 6);
      const test = model.test(matrix([[0, 1, 0, 0]]));
      expect(test.statistic / (feed.estimate / feed.se) ** 2).toBeCloseTo(1, 9);
      expect(test.dfError).toBeCloseTo(14, 6);
    }
  });

  it('passes over an aliased column and keeps the rest', () => {
    const { x } = input;
    const rows = Array.from({ length: x.rows }, (_, i) => {
      const [one = 0, feed = 0, b = 0, c = 0] = x.data.subarray(i * 4, i * 4 + 4);
      return [one, feed, one - feed, b, c];
    });
    const wide = fitMixed({ ...input, x: matrix(rows) });
    expect(wide.coefficients[2]).toBeNaN();
    [0, 1, 3, 4].forEach((from, to) => {
      expect(wide.coefficients[from]).toBeCloseTo(fit.coefficients[to] ?? NaN, 9);
    });
    expect(wide.covariance.data.subarray(10, 15)).toEqual(new Float64Array(5));
    expect(wide.logLik).toBeCloseTo(fit.logLik, 9);
    expect(wide.aic).toBeCloseTo(fit.aic, 9);
    // Dependent contrasts count once.
    const twice = wide.test(
      matrix([
        [0, 1, 0, 0, 0],
        [0, 2, 0, 0, 0],
      ]),
    );
    expect(twice.df).toBe(1);
  });

  it('refers to the normal and to chi-square when asked for no finite df', () => {
    const model = fitMixed({ ...input, denominator: 'asymptotic' });
    expect(model.estimate(Float64Array.of(0, 1, 0, 0)).df).toBe(Infinity);
    const test = model.test(
      matrix([
        [0, 0, 1, 0],
        [0, 0, 0, 1],
      ]),
    );
    expect(test).toMatchObject({ df: 2, dfError: Infinity, kind: 'chi-square' });
    // The survival function of chi-square on 2 df is exp(−x/2).
    expect(test.p / Math.exp(-test.statistic / 2)).toBeCloseTo(1, 9);
  });

  it('is least squares where there is no random unit', () => {
    const plain = fitMixed({ ...input, random: [], denominator: 'kenward-roger' });
    const n = input.x.rows;
    const { beta } = denseFit(input.x, input.y, unitCovariance(codes, [0, 0], 1));
    expect(plain.coefficients[1]).toBeCloseTo(beta[1] ?? NaN, 9);
    expect(plain.estimate(Float64Array.of(0, 1, 0, 0)).df).toBeCloseTo(n - 4, 9);
  });
});

describe('fitMixed on units that say little', () => {
  const n = 24;
  const tray = Int32Array.from({ length: n }, (_, i) => Math.floor(i / 4));
  const rows = Array.from(tray, (t) => [1, Number(t > 2)]);
  // Within every tray the same four values: trays differ less than pots would make them.
  const y = Float64Array.from({ length: n }, (_, i) => [1, 3, 4, 7][i % 4] ?? 0);
  const unit = { unit: 'tray', codes: tray, levels: 6 };

  it('reports a variance at the edge as exactly zero, and says so', () => {
    const fit = fitMixed({
      x: matrix(rows),
      y,
      random: [unit],
      denominator: 'satterthwaite',
    });
    expect(fit.variance[0]).toEqual({ unit: 'tray', variance: 0, df: null });
    expect(fit.warnings.join()).toContain('tray');
    expect(fit.estimate(Float64Array.of(0, 1)).df).toBeCloseTo(22, 9);
  });

  it('warns, and gives no containment df, where each level stands on one unit', () => {
    const shelf = { unit: 'shelf', codes: tray.map((t) => Number(t > 2)), levels: 2 };
    const fit = fitMixed({
      x: matrix(rows),
      y,
      random: [shelf, unit],
      denominator: 'containment',
    });
    expect(fit.warnings[0]).toContain('shelf cannot be told from the fixed effects');
    expect(fit.estimate(Float64Array.of(0, 1))).toMatchObject({ se: NaN, df: 0 });
    expect(fit.test({ rows: 1, columns: 2, data: Float64Array.of(0, 1) })).toMatchObject({
      dfError: 0,
      p: NaN,
    });
  });

  it('fits the other units as if the one that X explains were not named', () => {
    const tall = y.map((value, i) => value + 3 * Math.sin(7 * (tray[i] ?? 0)));
    const shelf = { unit: 'shelf', codes: tray.map((t) => Number(t > 2)), levels: 2 };
    const common = { x: matrix(rows), y: tall, denominator: 'kenward-roger' as const };
    const both = fitMixed({ ...common, random: [shelf, unit] });
    const alone = fitMixed({ ...common, random: [unit] });
    expect(both.variance).toEqual([{ unit: 'shelf', variance: 0, df: null }, ...alone.variance]);
    expect(both.logLik).toBe(alone.logLik);
    // Six trays, two treatments: the textbook's 4 df.
    expect(both.estimate(Float64Array.of(0, 1)).df).toBeCloseTo(4, 9);
  });

  const input: MixedInput = { x: matrix(rows), y, random: [unit], denominator: 'satterthwaite' };
  it.each([
    ['single pots', { codes: Int32Array.from({ length: n }, (_, i) => i), levels: n }, /residual/],
    ['one level', { codes: new Int32Array(n), levels: 6 }, /at least two/],
    ['a code too high', { codes: tray, levels: 5 }, /row 21; expected 0 to 4/],
    ['too few codes', { codes: tray.slice(1), levels: 6 }, /23 codes; expected 24/],
  ])('refuses %s', (_, change, message) => {
    expect(() => fitMixed({ ...input, random: [{ unit: 'tray', ...change }] })).toThrow(message);
  });

  it('refuses the same division under two names', () => {
    const again = { unit: 'bench', codes: tray.map((t) => 5 - t), levels: 6 };
    expect(() => fitMixed({ ...input, random: [unit, again] })).toThrow(/bench.*as tray does/);
  });

  it('refuses responses that are no numbers, constant, or exact within units', () => {
    const hole = y.slice();
    hole[4] = NaN;
    expect(() => fitMixed({ ...input, y: hole })).toThrow(/row 5 is NaN/);
    expect(() => fitMixed({ ...input, y: new Float64Array(n).fill(3) })).toThrow(/fit every row/);
    const flat = Float64Array.from(tray, (t) => t * t);
    expect(() => fitMixed({ ...input, y: flat })).toThrow(/differ within/);
  });

  it('refuses weights and contrasts of the wrong length, or of nothing', () => {
    const fit = fitMixed(input);
    expect(() => fit.estimate(Float64Array.of(1))).toThrow(/1 weights; expected 2/);
    expect(() => fit.estimate(Float64Array.of(0, 0))).toThrow(/zero/);
    expect(() => fit.test(matrix([[1]]))).toThrow(/1 columns; expected 2/);
    expect(() => fit.test(matrix([[0, 0]]))).toThrow(/all zero/);
  });
});
