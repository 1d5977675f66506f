import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import type { DataTable, FitResult } from '../../../../shared-types/fit';
import { fit } from '../../../../renderer/engine/stats/fit';

const run = (table: DataTable, asked: object): FitResult =>
  fit(fitRequestSchema.parse({ response: 'y', ...asked }), table);

function tableOf(columns: DataTable['columns']): DataTable {
  return { columns, rowCount: columns['y']?.length ?? 0 };
}

/** No figure of a result may be NaN or infinite: it could not be written as JSON. */
function everyNumber(value: unknown, path = 'result'): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [path];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, item]) => everyNumber(item, `${path}.${name}`));
}

describe('fits at the edge of what can be fitted', () => {
  it('refuses a model that leaves no df for the error', () => {
    const table = tableOf({ y: [1, 2, 3, 4], a: ['p', 'q', 'r', 's'] });
    expect(() => run(table, { treatments: ['a'] })).toThrow(
      /its 4 coefficients take up all 4 rows with a response/,
    );
  });

  it('refuses correlated neighbours where the terms leave nothing to correlate', () => {
    const table = tableOf({
      y: [1, 1, 2, 2, 1, 1, 2, 2, 1, 2, 1, 2],
      a: ['p', 'p', 'q', 'q', 'p', 'p', 'q', 'q', 'p', 'q', 'p', 'q'],
      row: [1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3],
      col: [1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4],
    });
    const position = { row: 'row', column: 'col', model: 'ar1' };
    expect(() => run(table, { treatments: ['a'], position })).toThrow(
      /fixed effects fit every row exactly; expected a response that varies/,
    );
  });

  it('goes on where the mean of a control cannot be estimated', () => {
    const table = tableOf({
      y: [1, 2, 3, 4.5, 2, 4, 3, 5, 7, 1],
      a: ['p', 'p', 'p', 'p', 'q', 'q', 'r', 'r', 'r', 'r'],
      b: ['s', 's', 't', 't', 's', 's', 's', 's', 't', 't'],
    });
    const compare = [{ means: ['a'], method: 'dunnett', against: 'q' }];
    const result = run(table, { treatments: ['a', 'b'], compare });
    expect(result.comparisons[0]?.rows).toEqual([]);
    expect(result.warnings.join(' ')).toMatch(/no comparisons of a against q: its mean cannot/);
    const within = [{ means: ['a'], by: ['b'], method: 'dunnett', against: 'q' }];
    const rows = run(table, { treatments: ['a', 'b'], compare: within }).comparisons[0]?.rows ?? [];
    expect(rows.map((row) => [row.a, row.within])).toEqual([
      ['p', { b: 's' }],
      ['r', { b: 's' }],
    ]);
  });

  it('keeps the letters of a level that is called as a part of every object is', () => {
    const table = tableOf({
      y: [1, 2, 1.5, 6, 7, 6.5],
      a: ['__proto__', '__proto__', '__proto__', 'b', 'b', 'b'],
    });
    const compare = [{ means: ['a'], method: 'tukey' }];
    const letters = run(table, { treatments: ['a'], compare }).comparisons[0]?.letters ?? {};
    expect(Object.entries(letters)).toEqual([
      ['b', 'a'],
      ['__proto__', 'b'],
    ]);
  });

  it('says so when the responses are an exact function of the terms', () => {
    const table = tableOf({ y: [0.1, 0.1, 0.3, 0.3], a: ['p', 'p', 'q', 'q'] });
    const result = run(table, { treatments: ['a'], means: [['a']] });
    expect(result.terms[0]).toMatchObject({ df: 1, statistic: null, p: null });
    expect(result.warnings.join(' ')).toMatch(/fits every row exactly/);
    expect(everyNumber(result)).toEqual([]);
  });

  it('keeps the strata of a factor that no unit repeats, without a statistic', () => {
    // Light on two shelves, one each; feed on the pots of both.
    const table = tableOf({
      y: [5, 7, 6, 9, 2, 5, 3, 6],
      shelf: ['1', '1', '1', '1', '2', '2', '2', '2'],
      light: ['on', 'on', 'on', 'on', 'off', 'off', 'off', 'off'],
      feed: ['hi', 'lo', 'hi', 'lo', 'hi', 'lo', 'hi', 'lo'],
    });
    const result = run(table, {
      treatments: ['light', 'feed'],
      randomUnits: [['shelf']],
      exactStrata: true,
      means: [['light'], ['feed']],
      compare: [
        { means: 'light', method: 'tukey' },
        { means: 'feed', method: 'tukey' },
      ],
    });
    const light = result.terms.find((row) => row.term === 'light');
    expect(light).toMatchObject({ stratum: 'shelf', df: 1, dfError: 0, statistic: null, p: null });
    expect(result.terms.find((row) => row.term === 'feed')).toMatchObject({
      stratum: 'residual',
      dfError: 4,
    });
    expect(result.comparisons.map((table) => table.rows.length)).toEqual([0, 1]);
    expect(result.means.map((table) => table.rows.length)).toEqual([0, 0]);
    expect(result.warnings.join(' ')).toMatch(/light cannot be tested/);
    expect(everyNumber(result)).toEqual([]);
  });

  it('refuses strata of units that cross unevenly', () => {
    const table = tableOf({
      y: [1, 2, 3, 4, 5, 6, 7, 9],
      r: ['1', '1', '1', '1', '2', '2', '2', '2'],
      c: ['1', '1', '1', '2', '2', '2', '2', '1'],
    });
    expect(() => run(table, { exactStrata: true, randomUnits: [['r'], ['c']] })).toThrow(
      /r and c cross unevenly/,
    );
  });

  it('wants the group that two crossed units share to be named', () => {
    const grid = [1, 2].flatMap((b) => [1, 2].flatMap((r) => [1, 2].map((c) => [b, r, c])));
    const cells = (make: (cell: number[]) => string): string[] => grid.map(make);
    const table = tableOf({
      y: [3, 1, 4, 1, 5, 9, 2, 6],
      bay: cells(([b]) => `b${b}`),
      row: cells(([b, r]) => `b${b}r${r}`),
      col: cells(([b, , c]) => `b${b}c${c}`),
    });
    const asked = { exactStrata: true };
    expect(() => run(table, { ...asked, randomUnits: [['row'], ['col']] })).toThrow(
      /row and col fall into 2 separate groups/,
    );
    const result = run(table, { ...asked, randomUnits: [['bay'], ['row'], ['col']] });
    expect(result.residual?.df).toBe(2);
  });

  it('keeps going when a combination has only zero counts', () => {
    const table = tableOf({
      y: [0, 0, 0, 3, 5, 2, 8, 6, 9],
      a: ['p', 'p', 'p', 'q', 'q', 'q', 'r', 'r', 'r'],
    });
    for (const counts of ['poisson', 'quasi-poisson', 'negative-binomial']) {
      const result = run(table, { treatments: ['a'], counts, means: [['a']] });
      expect(everyNumber(result)).toEqual([]);
      expect(result.warnings.join(' ')).toMatch(/only zero counts/);
    }
  });

  it('turns a check that the data are too few for into a warning', () => {
    const table = tableOf({ y: [1, 2, 4, 3], a: ['p', 'q', 'r', 'r'] });
    const result = run(table, { treatments: ['a'], checks: ['bartlett', 'shapiro-wilk'] });
    expect(result.checks['bartlett']).toEqual({ p: null });
    expect(result.method).toContain('Checks on the residuals: Bartlett and Shapiro–Wilk.');
    expect(result.warnings.join(' ')).toMatch(/Bartlett: group/);
  });

  it('refuses what does not go together', () => {
    const table = tableOf({ y: [1, 2, 4, 3], a: ['p', 'q', 'p', 'q'], u: ['1', '1', '2', '2'] });
    const refused = (asked: object): string => {
      try {
        run(table, asked);
      } catch (error) {
        return String(error);
      }
      return 'not refused';
    };
    expect(refused({ counts: 'poisson', randomUnits: [['u']] })).toMatch(/found randomUnits/);
    expect(refused({ exactStrata: true })).toMatch(/found no randomUnits/);
    expect(refused({ treatments: ['a'], means: [['u']] })).toMatch(/means: found "u"/);
    expect(
      refused({ treatments: ['a'], compare: [{ means: 'a', method: 'dunnett', against: 'z' }] }),
    ).toMatch(/the control "z" is no level of a; expected one of p, q/);
  });
});

describe('position as part of the fixed model', () => {
  const grid = Array.from({ length: 30 }, (_, i) => [Math.floor(i / 6) + 1, (i % 6) + 1]);
  const table = tableOf({
    y: grid.map(([r, c], i) => 2 * Number(r) - 0.5 * Number(c) + Math.sin(i * 78.233)),
    r: grid.map(([r]) => Number(r)),
    c: grid.map(([, c]) => Number(c)),
    a: grid.map((_, i) => `t${i % 3}`),
  });

  it('takes rows and columns as one slope each', () => {
    const linear = run(table, {
      treatments: ['a'],
      position: { row: 'r', column: 'c', model: 'linear' },
    });
    const covariates = run(table, { treatments: ['a'], covariates: ['r', 'c'] });
    expect(linear.terms.map((row) => row.term)).toEqual(['row', 'column', 'a']);
    expect(linear.terms.map((row) => row.ss)).toEqual(covariates.terms.map((row) => row.ss));
  });

  it('compares edge with inner pots', () => {
    const result = run(table, {
      treatments: ['a'],
      position: { row: 'r', column: 'c', model: 'edge' },
      means: [['edge']],
      compare: [{ means: 'edge', method: 'none' }],
    });
    expect(result.means[0]?.rows.map((row) => row['edge'])).toEqual(['edge', 'inner']);
    // One df: the F of the term is the square of the comparison's t.
    const f = result.terms.find((row) => row.term === 'edge')?.statistic ?? NaN;
    expect((result.comparisons[0]?.rows[0]?.statistic ?? NaN) ** 2).toBeCloseTo(f, 9);
  });

  it.each(['smooth', 'ar1', 'rows+columns'])('hands %s to the mixed model', (model) => {
    const result = run(table, { treatments: ['a'], position: { row: 'r', column: 'c', model } });
    expect(result.criterion).toBe('REML');
    expect(result.terms[0]?.df).toBe(2);
    expect(everyNumber(result)).toEqual([]);
  });
});
