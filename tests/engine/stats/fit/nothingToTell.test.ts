import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import type { DataTable, FitResult } from '../../../../shared-types/fit';
import { fit } from '../../../../renderer/engine/stats/fit';

const run = (table: DataTable, asked: object): FitResult =>
  fit(fitRequestSchema.parse({ response: 'y', ...asked }), table);

const tableOf = (columns: DataTable['columns']): DataTable => ({
  columns,
  rowCount: columns['y']?.length ?? 0,
});

/** Feed on trays, `trays` a level; cultivar on the pots of each. */
function trays(perLevel: number): DataTable {
  const rows = ['strong', 'weak'].flatMap((feed) =>
    Array.from({ length: perLevel }, (_, t) => t).flatMap((t) =>
      Array.from({ length: 6 }, (_, pot) => ({
        feed,
        tray: `${feed}${t}`,
        cultivar: pot % 2 === 0 ? 'k' : 'l',
        y: (feed === 'strong' ? 9 : 5) + t + ((pot * 7) % 5) / 3 + (pot % 2) / 2,
      })),
    ),
  );
  return tableOf({
    feed: rows.map((row) => row.feed),
    tray: rows.map((row) => row.tray),
    cultivar: rows.map((row) => row.cultivar),
    y: rows.map((row) => row.y),
  });
}

describe('a term without degrees of freedom left', () => {
  const asked = {
    treatments: ['feed', 'cultivar'],
    randomUnits: [['tray']],
    tests: 'marginal',
    means: [['feed'], ['cultivar']],
    compare: ['feed', 'cultivar'].map((means) => ({ means, method: 'none' })),
  };
  const denominators = ['satterthwaite', 'kenward-roger', 'containment', 'units', 'asymptotic'];

  it.each(denominators)('has no p value under %s, and a warning says why', (denominator) => {
    const result = run(trays(1), { ...asked, denominator });
    const [feed, cultivar] = result.terms;
    expect(feed).toMatchObject({ term: 'feed', dfError: 0, statistic: null, p: null });
    expect(feed?.stratum).toBe('tray');
    expect(cultivar?.p).toBeGreaterThan(0);
    expect(result.comparisons.map(({ rows }) => rows.length)).toEqual([0, 1]);
    expect(result.means.map(({ rows }) => rows.length)).toEqual([0, 0]);
    expect(result.coefficients.map(({ name }) => name)).toEqual([
      'cultivar l',
      'feed weak × cultivar l',
    ]);
    expect(result.wald).toBeNull();
    expect(result.warnings.join(' ')).toMatch(
      /feed has no p value. The fixed terms use up all degrees of freedom between units of tray/,
    );
  });

  it.each(denominators)('keeps its p value under %s with a second unit a level', (denominator) => {
    const result = run(trays(2), { ...asked, denominator });
    expect(result.terms.every(({ p }) => p !== null && p > 0)).toBe(true);
    expect(result.means.map(({ rows }) => rows.length)).toEqual([2, 2]);
  });

  it('leaves units alone that the fixed blocks account for', () => {
    const blocks = { treatments: ['cultivar'], fixedBlocks: ['tray'], means: [['cultivar']] };
    const result = run(trays(2), { ...blocks, randomUnits: [['feed', 'tray']] });
    expect(result.means[0]?.rows).toHaveLength(2);
    expect(result.terms.every(({ p }) => p !== null)).toBe(true);
  });
});

describe('covariates far from zero', () => {
  const x = [0.3, 1.1, 2.2, 2.9, 4.1, 5.2, 5.8, 7.1, 8.3, 8.9, 10.2, 11];
  const y = [1.2, 2.9, 2.1, 4.2, 4.4, 5.1, 6.6, 6.1, 8.4, 7.9, 9.9, 10.1];
  const a = x.map((_, i) => (i % 2 === 0 ? 'p' : 'q'));
  const u = x.map((_, i) => `u${i % 4}`);
  const asked = {
    treatments: ['a'],
    covariates: ['x'],
    covariateInteractions: [['x', 'a']],
    tests: 'marginal',
    means: [['a']],
  };
  const shifted = (offset: number) => tableOf({ y, a, u, x: x.map((value) => value + offset) });

  it.each([{}, { randomUnits: [['u']] }])(
    'give the same figures wherever their zero is',
    (more) => {
      const near = run(shifted(0), { ...asked, ...more });
      const far = run(shifted(2 ** 30), { ...asked, ...more });
      const figures = ({ terms, means, coefficients }: FitResult) => [
        ...terms.flatMap(({ statistic, p }) => [statistic ?? 0, p ?? 0]),
        ...(means[0]?.rows ?? []).flatMap(({ mean, se }) => [mean, se]),
        // Slopes; the intercepts move with the zero.
        ...coefficients
          .filter(({ name }) => name.startsWith('x'))
          .flatMap((c) => [c.estimate, c.se]),
      ];
      const want = figures(near);
      expect(want).toHaveLength(3 * 2 + 2 * 2 + 2 * 2);
      // A value of 2^30 holds x to 1e-7, which is all that may be lost.
      figures(far).forEach((value, i) => {
        expect(Math.abs(value - (want[i] ?? 0))).toBeLessThan(1e-6 * Math.max(1, Math.abs(value)));
      });
    },
  );

  it('report the intercept on the scale of the table', () => {
    // y = 3 + 2x for p and 10 + 2.5x for q, with residuals that leave both lines as they are.
    const wobble = [0.1, -0.1, -0.1, 0.1];
    const rows = ['p', 'q'].flatMap((level) =>
      [1, 2, 3, 4].map((value, i) => ({
        level,
        value: value + 100,
        y: (level === 'p' ? 3 + 2 * (value + 100) : 10 + 2.5 * (value + 100)) + (wobble[i] ?? 0),
      })),
    );
    const table = tableOf({
      y: rows.map((row) => row.y),
      a: rows.map((row) => row.level),
      x: rows.map((row) => row.value),
    });
    const found = run(table, asked).coefficients.map(({ estimate }) => estimate);
    [3, 2, 7, 0.5].forEach((want, j) => {
      expect(found[j]).toBeCloseTo(want, 9);
    });
  });

  it('that do not vary are said to say nothing, whatever rounding they carry', () => {
    const table = tableOf({ y, a, x: x.map((_, i) => (i % 3 === 0 ? 0.1 + 0.2 : 0.3)) });
    const result = run(table, { treatments: ['a'], covariates: ['x'] });
    expect(result.warnings.join(' ')).toMatch(/Not estimable.*: x\./);
    expect(result.terms.find(({ term }) => term === 'x')?.p).toBeNull();
  });
});

describe('responses with nothing to tell', () => {
  const a = ['p', 'p', 'p', 'q', 'q', 'q', 'r', 'r', 'r'];

  it.each([
    {},
    { counts: 'poisson' },
    { counts: 'quasi-poisson' },
    { randomUnits: [['u']] },
    { randomUnits: [['u']], exactStrata: true },
  ])('that are all equal are told in words: %o', (more) => {
    const y = a.map(() => 5);
    const u = ['1', '2', '3', '1', '2', '3', '1', '2', '3'];
    const compare = [{ means: 'a', method: 'tukey' }];
    const result = run(tableOf({ y, a, u }), {
      treatments: ['a'],
      means: [['a']],
      compare,
      ...more,
    });
    expect(result.terms).toMatchObject([{ term: 'a', df: 2, statistic: null, p: null }]);
    expect([result.means[0]?.rows, result.comparisons[0]?.rows]).toEqual([[], []]);
    expect(result.warnings[0]).toMatch(/All 9 values of y are equal/);
  });

  it('that differ by little still are analysed', () => {
    const y = a.map((_, i) => 5 + 1e-9 * ((i * 5) % 7));
    const result = run(tableOf({ y, a }), { treatments: ['a'], means: [['a']] });
    expect(result.terms[0]?.p).toBeGreaterThan(0);
  });
});

describe('a level with only zero counts', () => {
  const a = ['p', 'p', 'p', 'q', 'q', 'q', 'r', 'r', 'r'];
  const compare = [{ means: 'a', method: 'none' }];
  const asked = { treatments: ['a'], means: [['a']], compare };

  it.each(['poisson', 'negative-binomial'])(
    'is named, and the others stand as without it: %s',
    (counts) => {
      const all = run(tableOf({ y: [0, 0, 0, 3, 15, 2, 8, 16, 9], a }), { ...asked, counts });
      const rest = run(tableOf({ y: [3, 15, 2, 8, 16, 9], a: a.slice(3) }), { ...asked, counts });
      expect(all.warnings.join(' ')).toMatch(/only zero counts at a p\. Their mean is zero/);
      expect(all.means[0]?.rows.map((row) => row['a'])).toEqual(['q', 'r']);
      expect(all.comparisons[0]?.rows.map((row) => `${row.a} ${row.b}`)).toEqual(['q r']);
      const [got, want] = [all.comparisons[0]?.rows[0], rest.comparisons[0]?.rows[0]];
      expect(got?.difference).toBeCloseTo(want?.difference ?? NaN, 9);
      expect(got?.se).toBeCloseTo(want?.se ?? NaN, 9);
      expect(all.terms[0]?.p).toBeLessThan(rest.terms[0]?.p ?? 0);
    },
  );

  it('is no such level with a single plant counted', () => {
    const result = run(tableOf({ y: [0, 0, 1, 3, 15, 2, 8, 16, 9], a }), {
      ...asked,
      counts: 'poisson',
    });
    expect(result.means[0]?.rows).toHaveLength(3);
    expect(result.warnings.join(' ')).not.toMatch(/only zero/);
  });
});

describe('two pots in one place', () => {
  const cells = Array.from({ length: 24 }, (_, i) => i);
  const table = (second: number) =>
    tableOf({
      y: cells.map((i) => ((i * 37) % 23) + (i % 2)),
      a: cells.map((i) => (i % 2 === 0 ? 'p' : 'q')),
      tray: cells.map((i) => (i < 12 ? 't1' : 't2')),
      row: cells.map((i) => Math.floor((i % 12) / 4) + 1),
      col: cells.map((i) => (i === 5 ? second : (i % 4) + 1)),
    });
  const position = { row: 'row', column: 'col', within: ['tray'], model: 'ar1' };

  it('are refused by correlated neighbours, which names them', () => {
    expect(() => run(table(1), { treatments: ['a'], position })).toThrow(
      /rows 5 and 6 of the table both stand at row 2, column 1 of one tray/,
    );
    expect(() =>
      run(table(2), { treatments: ['a'], position: { ...position, within: [] } }),
    ).toThrow(/rows 1 and 13 of the table both stand at row 1, column 1; expected one pot a place/);
  });

  it('may stand in the like place of two trays', () => {
    expect(run(table(2), { treatments: ['a'], position }).spatial).not.toBeNull();
  });
});
