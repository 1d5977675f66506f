import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import type { DataTable, FitResult } from '../../../../shared-types/fit';
import { fit } from '../../../../renderer/engine/stats/fit';
import { normals } from '../noise';

/** Three shelves of three trays with twelve pots; feed by tray, cultivar by pot. */
function trial(seed: number, trayVariance: number, missing: number): DataTable {
  const noise = normals(seed);
  const feeds = ['strong', 'mid', 'weak'];
  const columns: Record<string, (string | number | null)[]> = {};
  const put = (row: Record<string, string | number>) => {
    for (const [name, value] of Object.entries(row)) (columns[name] ??= []).push(value);
  };
  for (let tray = 0; tray < 9; tray++) {
    const shelf = Math.floor(tray / 3);
    const own = Math.sqrt(trayVariance) * noise();
    for (let pot = 0; pot < 12; pot++) {
      put({
        shelf: `s${shelf}`,
        tray: `t${tray}`,
        feed: feeds[(tray + shelf) % 3] ?? '',
        cultivar: `c${pot % 3}`,
        pot: `t${tray}p${pot}`,
        y: 10 + own + noise(),
      });
    }
  }
  const y = columns['y'] ?? [];
  const lost = Array.from({ length: missing }, () => Math.floor(108 * Math.abs(noise() / 4)));
  for (const row of lost) y[row % 108] = null;
  return { columns, rowCount: 108 };
}

const asked = {
  response: 'y',
  treatments: ['feed', 'cultivar'],
  fixedBlocks: ['shelf'],
  randomUnits: [['tray']],
  tests: 'marginal',
  denominator: 'units',
  means: [['feed'], ['cultivar']],
  compare: ['feed', 'cultivar'].map((means) => ({ means, method: 'tukey' })),
};
const run = (table: DataTable, more: object = {}): FitResult =>
  fit(fitRequestSchema.parse({ ...asked, ...more }), table);

describe('the unit rule', () => {
  it('is the exact strata where nothing is missing', () => {
    const table = trial(1, 0.5, 0);
    const got = run(table);
    // Strata need the blocks among the units.
    const strata = run(table, {
      exactStrata: true,
      fixedBlocks: [],
      randomUnits: [['shelf'], ['tray']],
    });
    for (const want of strata.terms) {
      const row = got.terms.find(({ term }) => term === want.term);
      expect(row).toMatchObject({ df: want.df, dfError: want.dfError, stratum: want.stratum });
      expect(row?.statistic).toBeCloseTo(want.statistic ?? NaN, 9);
    }
    got.comparisons.forEach(({ rows }, k) => {
      rows.forEach((row, i) => {
        const want = strata.comparisons[k]?.rows[i];
        expect(row.se).toBeCloseTo(want?.se ?? NaN, 9);
        expect(row.df).toBeCloseTo(want?.df ?? NaN, 9);
        expect(row.p).toBeCloseTo(want?.p ?? NaN, 9);
      });
    });
  });

  it('never drops a unit whose variance comes out below zero, and says so', () => {
    const seeds = Array.from({ length: 12 }, (_, i) => i + 1);
    const below = seeds
      .map((seed) => run(trial(seed, 0, 6)))
      .filter(({ variance }) => (variance[0]?.variance ?? 0) < 0);
    expect(below.length).toBeGreaterThan(2);
    for (const result of below) {
      expect(result.terms[1]).toMatchObject({ term: 'feed', dfError: 4, stratum: 'tray' });
      expect(result.warnings.join(' ')).toMatch(
        /variance of tray is estimated below zero \(−0\.\d/,
      );
      expect(result.meanSquares.map(({ unit, df }) => [unit, df])).toEqual([
        ['tray', 4],
        ['residual', result.residual?.df],
      ]);
    }
    expect(run(trial(1, 4, 6)).warnings).toEqual([]);
  });

  it.each(['rows+columns', 'smooth', 'ar1'])('holds for trays under %s too', (model) => {
    const table = trial(4, 0.3, 6);
    const place = (make: (i: number) => number) => Array.from({ length: 108 }, (_, i) => make(i));
    table.columns['row'] = place((i) => Math.floor((i % 12) / 4));
    table.columns['col'] = place((i) => i % 4);
    const position = { row: 'row', column: 'col', within: ['tray'], model };
    const plain = run(table);
    const placed = run(table, { position });
    expect(placed.terms[1]).toEqual(plain.terms[1]);
    expect(placed.comparisons[0]).toEqual(plain.comparisons[0]);
    // Pots by the position model, after Kenward and Roger.
    const alone = run(table, { position, denominator: 'kenward-roger' });
    expect(placed.terms[2]).toEqual(alone.terms[2]);
    expect(placed.comparisons[1]?.rows).toEqual(alone.comparisons[1]?.rows);
    expect(placed.means[1]).toEqual(alone.means[1]);
    expect(placed.terms[2]?.statistic).not.toBeCloseTo(plain.terms[2]?.statistic ?? NaN, 6);
  });

  it('takes units of single rows and units named twice for what they are', () => {
    const table = trial(3, 0.3, 0);
    const result = run(table, { randomUnits: [['tray'], ['shelf', 'tray'], ['pot']] });
    expect(result.warnings.join(' ')).toMatch(/shelf × tray divides the rows just as tray does/);
    expect(result.warnings.join(' ')).toMatch(/Each pot holds one row/);
    expect(result.terms).toEqual(run(table).terms);
  });

  it('gives means whose differences are the differences given', () => {
    const result = run(trial(5, 0.5, 14));
    result.comparisons.forEach(({ rows }, k) => {
      const factor = k === 0 ? 'feed' : 'cultivar';
      const mean = (level: string) =>
        result.means[k]?.rows.find((row) => row[factor] === level)?.mean ?? NaN;
      for (const { a, b, difference } of rows) {
        expect(mean(a) - mean(b)).toBeCloseTo(difference, 10);
      }
    });
  });

  it('keeps its level whatever the variance of the units, plants missing', () => {
    // 0.05 ± 3 standard errors of 400 sets; likelihood that drops the unit reaches 0.069.
    for (const variance of [0, 0.5]) {
      let alarms = 0;
      for (let seed = 1; seed <= 400; seed++) {
        const table = trial(7000 + seed, variance, 12);
        const { terms } = run(table, { means: [], compare: [] });
        if ((terms[1]?.p ?? 1) < 0.05) alarms++;
      }
      expect(alarms / 400).toBeGreaterThan(0.017);
      expect(alarms / 400).toBeLessThan(0.083);
    }
  });
});
