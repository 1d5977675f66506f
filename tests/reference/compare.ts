import { expect } from 'vitest';
import type { ComparisonRow, FitResult, MeanRow } from '../../shared-types/fit';
import { expectClose } from './figures';
import type { Row } from './figures';

/** Compares parts of a fit's result with recorded tables (names as in tests/reference/README.md). */

const parts = (name: string): string =>
  name
    .split(/\s*[:×]\s*/)
    .sort()
    .join(':');

/** Rows `term`, `df`, `ss`, `ms`, `F`, `p` and a last row `Residuals`. */
export function expectAnova(
  result: FitResult,
  table: Row[],
  relative: number,
  floor = 1e-12,
): void {
  const terms = table.filter((row) => !['Residuals', '(Intercept)'].includes(String(row['term'])));
  expect(result.terms.filter((row) => row.df > 0)).toHaveLength(terms.length);
  for (const want of terms) {
    const name = String(want['term']);
    const got = result.terms.find((row) => parts(row.term) === parts(name));
    expectClose(got?.df, want['df'], 0, `${name} df`);
    expectClose(got?.ss, want['ss'], relative, `${name} ss`, floor);
    if (want['ms'] !== undefined) expectClose(got?.ms, want['ms'], relative, `${name} ms`, floor);
    expectClose(got?.statistic, want['F'], relative, `${name} F`, floor);
    // A tail moves by more than its statistic.
    expectClose(got?.p, want['p'], 100 * relative, `${name} p`, 0);
  }
  const residual = table.find((row) => row['term'] === 'Residuals');
  if (!residual) return;
  expectClose(result.residual?.df, residual['df'], 0, 'residual df');
  expectClose(result.residual?.ss, residual['ss'], relative, 'residual ss');
}

/** Rows with a column a factor and `emmean`, `se`, `df`, `lower`, `upper`; null: not estimable. */
export function expectMeans(got: MeanRow[], table: Row[], of: string[], relative: number): void {
  expect(got).toHaveLength(table.filter((row) => row['emmean'] !== null).length);
  for (const want of table) {
    const row = got.find((item) => of.every((name) => String(item[name]) === String(want[name])));
    const place = `mean of ${of.map((name) => String(want[name])).join(' ')}`;
    if (want['emmean'] === null) {
      expect(row, place).toBeUndefined();
      continue;
    }
    expectClose(row?.mean, want['emmean'], relative, place, 1e-10);
    expectClose(row?.se, want['se'], relative, `${place}, se`);
    if (want['df'] === 'Inf') expect(row?.df).toBeNull();
    else expectClose(row?.df, want['df'], relative, `${place}, df`);
    expectClose(row?.lower, want['lower'], relative, `${place}, lower`, 1e-9);
    expectClose(row?.upper, want['upper'], relative, `${place}, upper`, 1e-9);
  }
}

/** The recorded label of a mean: levels that are numbers carry their factor's name. */
function label(name: string, of: string[], numeric: ReadonlySet<string>): string {
  return name
    .split(' · ')
    .map((level, i) => (numeric.has(of[i] ?? '') ? `${of[i] ?? ''}${level}` : level))
    .join(' ');
}

export interface PairTolerance {
  /** Of differences, standard errors and statistics. */
  relative: number;
  p: number;
  ends: number;
}

/** Rows `contrast` (`a - b`), `estimate`, `se`, `df`, `t` or `z`, `p`, `lower`, `upper`. */
export function expectPairs(
  got: ComparisonRow[],
  table: Row[],
  of: string[],
  by: string[],
  tolerance: PairTolerance,
): void {
  const isNumeric = (i: number): boolean =>
    got.every((row) =>
      [row.a, row.b].every((name) => Number.isFinite(Number(name.split(' · ')[i]))),
    );
  const numeric = new Set(of.filter((_, i) => isNumeric(i)));
  expect(got).toHaveLength(table.length);
  for (const want of table) {
    const wanted = String(want['contrast']).replace(' / ', ' - ');
    const same = got.filter((row) => by.every((name) => row.within?.[name] === want[name]));
    const names = (row: ComparisonRow): [string, string] => [
      label(row.a, of, numeric),
      label(row.b, of, numeric),
    ];
    const straight = same.find((row) => names(row).join(' - ') === wanted);
    const turned = same.find((row) => names(row).reverse().join(' - ') === wanted);
    const row = straight ?? turned;
    if (!row) throw new Error(`${wanted}: no such comparison`);
    const sign = straight ? 1 : -1;
    const ratio = typeof want['ratio'] === 'number' ? Math.log(want['ratio']) : want['estimate'];
    expectClose(sign * row.difference, ratio, tolerance.relative, wanted, 1e-10);
    if (want['ratio'] === undefined) {
      expectClose(row.se, want['se'], tolerance.relative, `${wanted}, se`);
      const [low, high] = straight ? [row.lower, row.upper] : [-row.upper, -row.lower];
      expectClose(low, want['lower'], tolerance.ends, `${wanted}, lower`, tolerance.ends);
      expectClose(high, want['upper'], tolerance.ends, `${wanted}, upper`, tolerance.ends);
    }
    const statistic = want['t'] ?? want['z'];
    expectClose(sign * row.statistic, statistic, tolerance.relative, `${wanted}, statistic`, 1e-9);
    expectClose(row.p, want['p'], tolerance.relative, `${wanted}, p`, tolerance.p);
  }
}

/** Which pairs of groups share a letter; the letters themselves are free. */
export function expectLetters(
  got: Record<string, string>,
  want: Record<string, string>,
  of: string[],
  numeric: string[],
): void {
  const named = Object.fromEntries(
    Object.entries(got).map(([name, letters]) => [label(name, of, new Set(numeric)), letters]),
  );
  const share = (letters: Record<string, string>, a: string, b: string): boolean =>
    [...(letters[a] ?? '')].some((letter) => (letters[b] ?? '').includes(letter));
  const names = Object.keys(want);
  expect(Object.keys(named).sort()).toEqual([...names].sort());
  for (const a of names) {
    for (const b of names) expect(share(named, a, b), `${a}, ${b}`).toBe(share(want, a, b));
  }
}

interface FitSummary {
  coefficients: Row[];
  loglik: number;
  aic: number;
  rss: number;
  df_residual: number;
}

/** Coefficients in reference coding with the sizes of the whole fit. */
export function expectFit(result: FitResult, want: FitSummary, relative: number): void {
  expect(result.coefficients).toHaveLength(want.coefficients.length);
  for (const row of want.coefficients) {
    const name = String(row['term']);
    const got = result.coefficients.find(
      (item) =>
        item.name
          .split(' × ')
          .map((part) => part.replace(' ', ''))
          .join(':')
          .toLowerCase() === name.toLowerCase(),
    );
    expectClose(got?.estimate, row['estimate'], relative, name, 1e-10);
    expectClose(got?.se, row['se'], relative, `${name}, se`);
  }
  expectClose(result.logLik, want.loglik, relative, 'log-likelihood');
  expectClose(result.aic, want.aic, relative, 'aic');
  expectClose(result.residual?.ss, want.rss, relative, 'residual ss');
  expect(result.residual?.df).toBe(want.df_residual);
}
