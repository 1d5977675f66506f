import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import type { ResponseScale } from '../../renderer/engine/findings';
import {
  effectSizesOf,
  findingsOfTable,
  meanShown,
  covariateSlopesOf,
  termOf,
  type TableReading,
} from '../../renderer/engine/findings';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import {
  comparisonTable,
  effectSizeTable,
  meansTable,
  slopesTable,
  termsTable,
  varianceTable,
} from '../../renderer/print/report';
import { expectClose, readCsv } from './figures';
import { tableReading } from '../builders/tableReading';

// Source: R 4.2.2, tests/reference/make/27-findings-tables.R.
type Row = Record<string, number>;
const expected = JSON.parse(
  readFileSync(new URL('expected/27-findings-tables.json', import.meta.url), 'utf8'),
) as Record<string, Row>;
const of = (name: string): Row => expected[name] ?? {};

const bare = tableReading({ unit: 'g' });

function found(file: string, reading: Partial<TableReading>, categories: string[]) {
  const outcome = findingsOfTable(readCsv(`data/${file}.csv`, categories), { ...bare, ...reading });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const growth = (scale: ResponseScale = null) =>
  found(
    'plantgrowth',
    { response: 'weight', factors: [{ column: 'group', kind: 'randomised', unit: 'pot' }], scale },
    ['group'],
  );

describe('a covariate in the findings', () => {
  const findings = found(
    'anorexia',
    {
      response: 'Postwt',
      start: 'Prewt',
      factors: [{ column: 'Treat', kind: 'randomised', unit: 'pot' }],
    },
    ['Treat'],
  );

  it('has F, df and p in the table, as the treatment has', () => {
    const rows = termsTable(findings).rows.map((cells) => cells.map(({ value }) => value));
    for (const [name, source] of [
      ['starting value', 'anorexia Prewt'],
      ['Treat', 'anorexia Treat'],
    ] as const) {
      const [, df, , dfError, f, p] = rows.find(([head]) => head === name) ?? [];
      expect([df, dfError]).toEqual([of(source)['df'], of(source)['dfError']]);
      expectClose(Number(f), of(source)['F'], 1e-9, 'F');
      expectClose(Number(p), of(source)['p'], 1e-8, 'p');
    }
  });

  it('has a slope with its interval', () => {
    const [slope] = covariateSlopesOf(findings);
    const source = of('anorexia slope');
    for (const name of ['estimate', 'se', 'p', 'lower', 'upper'] as const) {
      expectClose(slope?.[name], source[name], 1e-8, name);
    }
    const cells = slopesTable(findings, 'metric')?.rows[0]?.map(({ text }) => text);
    expect(cells).toEqual(['starting value', 'g', '0.43', '0.11 to 0.76', '0.16', '68', '0.009']);
  });
});

describe('logarithms', () => {
  const findings = growth('log');

  it('give geometric means, called so', () => {
    for (const row of findings.primary.result.means[0]?.rows ?? []) {
      const source = of(`geometric ${String(row['group'])}`);
      const shown = meanShown(row);
      for (const name of ['mean', 'lower', 'upper'] as const) {
        expectClose(shown[name], source[name], 1e-9, name);
      }
    }
    const table = meansTable(findings, ['group']);
    expect(table?.columns.map(({ head }) => head)).toContain('Geometric mean');
    expect(table?.caption).toMatch(/^Adjusted geometric means by group/);
  });

  it('give ratios with intervals', () => {
    const comparison = findings.primary.result.comparisons.find((c) => c.method === 'tukey');
    const rows = comparison ? comparisonTable(findings, comparison).rows : [];
    expect(rows).toHaveLength(3);
    comparison?.rows.forEach(({ a, b }, i) => {
      const [, ratio, interval] = rows[i] ?? [];
      const direct = expected[`ratio ${a}-${b}`];
      const source = direct ?? of(`ratio ${b}-${a}`);
      const [lower = NaN, upper = NaN] = interval?.ends ?? [];
      const value = Number(ratio?.value);
      const [at, low, high] = direct
        ? [value, lower, upper]
        : [value, upper, lower].map((figure) => 1 / figure);
      expectClose(at, source['ratio'], 1e-9, 'ratio');
      expectClose(low, source['lower'], 1e-6, 'lower');
      expectClose(high, source['upper'], 1e-6, 'upper');
    });
  });
});

describe('effect sizes', () => {
  it('have the intervals of noncentral t and of Fieller’s theorem', () => {
    const sizes = effectSizesOf(growth());
    expect(sizes).toHaveLength(3);
    for (const { a, b, standardised, percent } of sizes) {
      const source = of(`effect ${a} ${b}`);
      expectClose(standardised?.value, source['d'], 1e-9, 'd');
      expectClose(standardised?.lower, source['dLower'], 1e-6, 'lower d');
      expectClose(standardised?.upper, source['dUpper'], 1e-6, 'upper d');
      expectClose(percent?.value, source['percent'], 1e-9, '%');
      expectClose(percent?.lower, source['percentLower'], 1e-6, 'lower %');
      expectClose(percent?.upper, source['percentUpper'], 1e-6, 'upper %');
    }
  });

  it('leave out zero exactly where the interval of the difference does, on units too', () => {
    const table = readCsv('data/oats.csv', ['nitro', 'Block', 'Variety']);
    const { Block = [], Variety = [] } = table.columns;
    const plot = Block.map((block, k) => `${String(block)} ${String(Variety[k])}`);
    const outcome = findingsOfTable(
      { ...table, columns: { ...table.columns, plot } },
      {
        ...bare,
        response: 'yield',
        block: 'Block',
        tray: 'plot',
        factors: [
          { column: 'Variety', kind: 'randomised', unit: 'tray' },
          { column: 'nitro', kind: 'randomised', unit: 'pot' },
        ],
      },
    );
    if (!outcome.ok) throw new Error(outcome.missing);
    const oats = outcome.findings;
    for (const findings of [growth(), oats]) {
      for (const comparison of findings.primary.result.comparisons) {
        const table = effectSizeTable(findings, comparison);
        comparison.rows.forEach((row, i) => {
          const ends = (table?.rows[i] ?? []).flatMap((cell) => (cell.ends ? [cell.ends] : []));
          for (const [lower, upper] of ends) {
            expect(lower > 0 || upper < 0).toBe(row.lower > 0 || row.upper < 0);
          }
        });
      }
    }
  });
});

describe('variance components', () => {
  const oats = (denominator: 'units' | 'kenward-roger' | 'satterthwaite') => {
    const request = fitRequestSchema.parse({
      response: 'yield',
      treatments: ['Variety', 'nitro'],
      fixedBlocks: ['Block'],
      randomUnits: [['Block', 'Variety']],
      denominator,
    });
    return fit(request, readCsv('data/oats.csv', categoryColumns(request)));
  };
  const dyestuff = (denominator: 'units' | 'kenward-roger') => {
    const request = fitRequestSchema.parse({
      response: 'Yield',
      randomUnits: [['Batch']],
      denominator,
    });
    return fit(request, readCsv('data/dyestuff.csv', categoryColumns(request)));
  };

  // In balanced data REML's expected information gives the df of the mean squares.
  it.each([
    ['oats', 'mean squares', oats('units')],
    ['oats', 'REML', oats('kenward-roger')],
    ['dyestuff', 'mean squares', dyestuff('units')],
    ['dyestuff', 'REML', dyestuff('kenward-roger')],
  ] as const)('%s by %s have Satterthwaite’s intervals', (name, _, result) => {
    expect(result.variance).toHaveLength(2);
    result.variance.forEach((row, i) => {
      const source = of(i === 0 ? name : `${name} residual`);
      for (const figure of ['variance', 'df', 'lower', 'upper'] as const) {
        expectClose(row[figure] ?? NaN, source[figure], 1e-6, figure);
      }
    });
  });

  it('have no interval, but words, where the estimate is not above zero', () => {
    const columns = { y: [1, 5, 5, 1, 2, 4, 4, 2], tray: ['a', 'a', 'b', 'b', 'c', 'c', 'd', 'd'] };
    const request = fitRequestSchema.parse({
      response: 'y',
      randomUnits: [['tray']],
      denominator: 'units',
    });
    const [tray, residual] = fit(request, { columns, rowCount: 8 }).variance;
    expect(tray?.variance).toBeLessThan(0);
    expect([tray?.df, tray?.lower, tray?.upper]).toEqual([null, null, null]);
    expect(residual?.lower).toBeGreaterThan(0);
    const findings = growth();
    const { result } = findings.primary;
    const variance = [...(tray ? [tray] : []), ...result.variance];
    const table = varianceTable({
      ...findings,
      primary: { ...findings.primary, result: { ...result, variance } },
    });
    expect(table?.note).toContain('The variance of tray is not above zero');
    expect(varianceTable(findings)?.note).not.toContain('not above zero');
  });
});

describe('beside the means', () => {
  // Source of the LSD: lsd.test.ts; the SE is LSD / qt(.975, 27) = 0.572012611559963 / 2.05183.
  it('stand the error and the LSD of a difference, and what a shared letter means', () => {
    const note = meansTable(growth(), ['group'])?.note ?? '';
    expect(note).toContain('Standard error of a difference 0.28 g');
    expect(note).toContain('least significant difference at 5 % 0.57 g');
    expect(note).toContain('Same letter: no clear difference');
    expect(note).toContain('does not make the levels equal');
  });

  it('follow the decimals of the interval', () => {
    for (const cells of meansTable(growth(), ['group'])?.rows ?? []) {
      const [, mean, , interval] = cells;
      const decimals = (text = '') => /\.([0-9]+)/.exec(text)?.[1]?.length ?? 0;
      const [lower, upper] = (interval?.text ?? '').split(' to ');
      expect([decimals(lower), decimals(upper)]).toEqual(Array(2).fill(decimals(mean?.text)));
    }
    expect(termOf(growth().primary.result, ['group'])?.p).toBeLessThan(0.05);
  });
});
