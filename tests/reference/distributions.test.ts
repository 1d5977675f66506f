import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as d from '../../renderer/engine/stats/distributions';

/** Source: tests/reference/expected/01-distributions.json (its `method` says how it was made). */
interface Row {
  [name: string]: number | string | null;
}
/**
 * One row of the file carries R's incomplete beta, off by 2e-10 there. The true value is the Poisson
 * mixture of incomplete betas in 40-digit arithmetic (mpmath betainc).
 */
const CORRECTED = new Map([[0.00008386514974223903, 0.000083865149726128061540919]]);

interface Distribution {
  cdf: Row[];
  quantile: Row[];
}
const file = JSON.parse(
  readFileSync(new URL('./expected/01-distributions.json', import.meta.url), 'utf8'),
) as { distributions: Record<string, Distribution> };

function rows(name: string, part: 'cdf' | 'quantile'): Row[] {
  const found = file.distributions[name]?.[part];
  if (!found) throw new Error(`no ${part} rows for ${name}`);
  return found;
}

function value(row: Row, name: string): number {
  const found = row[name];
  if (found === 'Inf') return Infinity;
  if (typeof found !== 'number') throw new Error(`${name} missing in ${JSON.stringify(row)}`);
  return found;
}

type Tail = (x: number, row: Row) => number;

/** The worst relative disagreement over the rows, named, so that a failure says where. */
function worstTail(name: string, lower: Tail, upper: Tail): { off: number; at: string } {
  let worst = { off: 0, at: '' };
  for (const row of rows(name, 'cdf')) {
    for (const [side, tail] of [
      ['lower', lower],
      ['upper', upper],
    ] as const) {
      const stored = value(row, side);
      const expected = CORRECTED.get(stored) ?? stored;
      const got = tail(value(row, 'x'), row);
      // Tails under 1e-300 are reported as 0.
      const off = expected < 1e-300 ? Math.abs(got) : Math.abs(got / expected - 1);
      if (!(off <= worst.off)) worst = { off, at: `${side} ${JSON.stringify(row)} gave ${got}` };
    }
  }
  return worst;
}

function worstQuantile(name: string, lower: Tail, upper: Tail): { off: number; at: string } {
  let worst = { off: 0, at: '' };
  for (const row of rows(name, 'quantile')) {
    const expected = value(row, 'q');
    const got = (row['tail'] === 'upper' ? upper : lower)(value(row, 'p'), row);
    const off = expected === 0 ? Math.abs(got) : Math.abs(got / expected - 1);
    if (!(off <= worst.off)) worst = { off, at: `${JSON.stringify(row)} gave ${got}` };
  }
  return worst;
}

function expectWithin(worst: { off: number; at: string }, tolerance: number): void {
  expect(worst.off, worst.at).toBeLessThan(tolerance);
}

describe('central distributions against 40-digit values', () => {
  it('normal', () => {
    expectWithin(worstTail('normal', d.normalLower, d.normalUpper), 1e-12);
    expectWithin(worstQuantile('normal', d.normalQuantile, d.normalQuantileUpper), 1e-12);
  });

  it('t', () => {
    const df = (row: Row): number => value(row, 'df');
    expectWithin(
      worstTail(
        't',
        (x, r) => d.tLower(x, df(r)),
        (x, r) => d.tUpper(x, df(r)),
      ),
      1e-12,
    );
    expectWithin(
      worstQuantile(
        't',
        (p, r) => d.tQuantile(p, df(r)),
        (p, r) => d.tQuantileUpper(p, df(r)),
      ),
      1e-12,
    );
  });

  it('chi-square', () => {
    const df = (row: Row): number => value(row, 'df');
    expectWithin(
      worstTail(
        'chisq',
        (x, r) => d.chiSquareLower(x, df(r)),
        (x, r) => d.chiSquareUpper(x, df(r)),
      ),
      1e-12,
    );
    expectWithin(
      worstQuantile(
        'chisq',
        (p, r) => d.chiSquareQuantile(p, df(r)),
        (p, r) => d.chiSquareQuantileUpper(p, df(r)),
      ),
      1e-12,
    );
  });

  it('F', () => {
    const of = (r: Row): [number, number] => [value(r, 'df1'), value(r, 'df2')];
    expectWithin(
      worstTail(
        'f',
        (x, r) => d.fLower(x, ...of(r)),
        (x, r) => d.fUpper(x, ...of(r)),
      ),
      1e-12,
    );
    expectWithin(
      worstQuantile(
        'f',
        (p, r) => d.fQuantile(p, ...of(r)),
        (p, r) => d.fQuantileUpper(p, ...of(r)),
      ),
      1e-12,
    );
  });
});

describe('studentized range against direct integration', () => {
  const of = (r: Row): [number, number] => [value(r, 'groups'), value(r, 'df')];

  it('both tails', () => {
    expectWithin(
      worstTail(
        'studentized_range',
        (q, r) => d.studentizedRangeLower(q, ...of(r)),
        (q, r) => d.studentizedRangeUpper(q, ...of(r)),
      ),
      1e-11,
    );
  });

  it('quantiles', () => {
    expectWithin(
      worstQuantile(
        'studentized_range',
        (p, r) => d.studentizedRangeQuantile(p, ...of(r)),
        (p, r) => d.studentizedRangeQuantileUpper(p, ...of(r)),
      ),
      1e-11,
    );
  });
});

describe('noncentral distributions against direct integration', () => {
  it('noncentral t', () => {
    const of = (r: Row): [number, number] => [value(r, 'df'), value(r, 'ncp')];
    expectWithin(
      worstTail(
        'noncentral_t',
        (t, r) => d.noncentralTLower(t, ...of(r)),
        (t, r) => d.noncentralTUpper(t, ...of(r)),
      ),
      1e-11,
    );
    expectWithin(
      worstQuantile(
        'noncentral_t',
        (p, r) => d.noncentralTQuantile(p, ...of(r)),
        (p, r) => d.noncentralTQuantileUpper(p, ...of(r)),
      ),
      1e-11,
    );
  });

  it('noncentral F', () => {
    const of = (r: Row): [number, number, number] => [
      value(r, 'df1'),
      value(r, 'df2'),
      value(r, 'ncp'),
    ];
    expectWithin(
      worstTail(
        'noncentral_f',
        (x, r) => d.noncentralFLower(x, ...of(r)),
        (x, r) => d.noncentralFUpper(x, ...of(r)),
      ),
      1e-11,
    );
    const lower: Tail = (p, r) => d.noncentralFQuantile(p, ...of(r));
    expectWithin(worstQuantile('noncentral_f', lower, lower), 1e-11);
  });

  it('noncentral chi-square', () => {
    const of = (r: Row): [number, number] => [value(r, 'df'), value(r, 'ncp')];
    expectWithin(
      worstTail(
        'noncentral_chisq',
        (x, r) => d.noncentralChiSquareLower(x, ...of(r)),
        (x, r) => d.noncentralChiSquareUpper(x, ...of(r)),
      ),
      1e-11,
    );
  });
});

describe("Dunnett's distribution against direct integration in R", () => {
  interface Comparison {
    t: number;
    df: number;
    p: number;
    crit95: number;
  }
  function comparisons(name: string, set: string): Comparison[] {
    const text = readFileSync(new URL(`./expected/${name}.json`, import.meta.url), 'utf8');
    const sets = (
      JSON.parse(text) as {
        sets: Record<string, { figures: Record<string, { value: Comparison[] }> }>;
      }
    ).sets;
    const found = sets[set]?.figures['dunnett'];
    if (!found) throw new Error(`no Dunnett figures for ${set}`);
    return found.value;
  }

  it.each([
    ['02-anova-balanced', 'plantgrowth', [10, 10], 10],
    // Of ten plants each, 9, 6 and 7 are left.
    ['03-anova-unbalanced', 'plantgrowth_unbalanced', [9, 6], 7],
  ] as const)('%s', (name, set, treated, control) => {
    const loadings = d.dunnettLoadings(treated, control);
    for (const row of comparisons(name, set)) {
      expect(d.dunnettUpper(Math.abs(row.t), loadings, row.df) / row.p).toBeCloseTo(1, 9);
      expect(d.dunnettQuantile(0.95, loadings, row.df) / row.crit95).toBeCloseTo(1, 9);
    }
  });
});
