import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  differenceShown,
  findingsOfTable,
  meanShown,
  paragraph,
  tableRandomisationTest,
  termOf,
  type TableReading,
} from '../../renderer/engine/findings';
import type { DataTable } from '../../shared-types/fit';
import { tableReading } from '../builders/tableReading';

function read(path: string): string {
  return readFileSync(new URL(path, import.meta.url), 'utf8');
}

function tableOf(file: string, numeric: string): DataTable {
  const [head = '', ...lines] = read(`data/${file}`).trim().split(/\r?\n/);
  const names = head.split(',');
  const cells = lines.map((line) => line.split(','));
  const columns = Object.fromEntries(
    names.map((name, c) => [
      name,
      cells.map((row) => (name === numeric ? Number(row[c]) : (row[c] ?? ''))),
    ]),
  );
  return { columns, rowCount: lines.length };
}

const bare = tableReading();

// Beall, G. (1942) Biometrika 29, 243–262; figures in tests/reference/expected/06-counts.json.
describe('insects counted after six sprays', () => {
  const { figures } = (
    JSON.parse(read('expected/06-counts.json')) as {
      sets: {
        insectsprays: {
          figures: {
            poisson_type2_lr: { value: { lr_chisq: number; df: number }[] };
            quasi_type2_F: { value: { F: number }[] };
            poisson_means_response: { value: { spray: string; rate: number; lower: number }[] };
            poisson_pairs_ratio_tukey: {
              value: { contrast: string; ratio: number; lower: number; upper: number }[];
            };
          };
        };
      };
    }
  ).sets.insectsprays;
  const found = (scale: TableReading['scale']) => {
    const outcome = findingsOfTable(tableOf('insectsprays.csv', 'count'), {
      ...bare,
      response: 'count',
      unit: 'insects',
      factors: [{ column: 'spray', kind: 'randomised', unit: 'pot' }],
      ...(scale ? { scale } : {}),
    });
    if (!outcome.ok) throw new Error(outcome.missing);
    return outcome.findings;
  };

  it('as Poisson counts: the recorded test, means as counts, differences as ratios', () => {
    const poisson = found('poisson');
    const term = termOf(poisson.primary.result, ['spray']);
    const expected = figures.poisson_type2_lr.value[0];
    expect(term?.kind).toBe('chi-square');
    expect((term?.statistic ?? 0) / (expected?.lr_chisq ?? 1)).toBeCloseTo(1, 8);
    const means = poisson.primary.result.means[0]?.rows ?? [];
    for (const { spray, rate, lower } of figures.poisson_means_response.value) {
      const row = means.find((mean) => mean['spray'] === spray);
      if (!row) throw new Error(spray);
      expect(meanShown(row).mean / rate).toBeCloseTo(1, 8);
      expect(meanShown(row).lower / lower).toBeCloseTo(1, 6);
    }
    const pairs = poisson.primary.result.comparisons.find((c) => c.method === 'tukey')?.rows ?? [];
    const expectedPair = figures.poisson_pairs_ratio_tukey.value.find(
      ({ contrast }) => contrast === 'A / C',
    );
    const pair = pairs.find(({ a, b }) => a === 'A' && b === 'C');
    if (!pair || !expectedPair) throw new Error('A and C are compared');
    expect(differenceShown(poisson, pair.difference) / expectedPair.ratio).toBeCloseTo(1, 8);
    expect(differenceShown(poisson, pair.lower) / expectedPair.lower).toBeCloseTo(1, 4);
    expect(paragraph(poisson)).toContain('was analysed as counts (Poisson) for 72 of 72 pots');
    expect(paragraph(poisson)).toMatch(/The widest difference, F over C, is a ratio of 8 /);
    // Counts have a likelihood of their own, and so a criterion to compare models by.
    expect(poisson.primary.information?.aic).toBe(poisson.primary.result.aic);
  });

  it('as counts that vary more: the recorded F', () => {
    const term = termOf(found('quasi-poisson').primary.result, ['spray']);
    expect((term?.statistic ?? 0) / (figures.quasi_type2_F.value[0]?.F ?? 1)).toBeCloseTo(1, 8);
  });

  it('says nothing of counts that are none', () => {
    const outcome = findingsOfTable(
      { rowCount: 4, columns: { count: [1, 2.5, 3, 4], spray: ['A', 'A', 'B', 'B'] } },
      {
        ...bare,
        response: 'count',
        factors: [{ column: 'spray', kind: 'randomised', unit: 'pot' }],
        scale: 'poisson',
      },
    );
    expect(!outcome.ok && outcome.missing).toMatch(
      /need whole numbers from 0; found row 2 \(2\.5\)/,
    );
  });
});

// Yates, F. (1935); every arrangement listed in tests/reference/expected/11-randomisation.json,
// oats_without_nitrogen, as for the same plots laid out as a plan.
describe('a table from elsewhere drawn again', () => {
  const reading: TableReading = {
    ...bare,
    response: 'yield',
    factors: [{ column: 'Variety', kind: 'randomised', unit: 'pot' }],
    block: 'Block',
  };
  const table = tableOf('oats_without_nitrogen.csv', 'yield');
  const asked = { factors: ['Variety'], runs: 4000, seed: 'a' };

  it('lists all 46,656 arrangements within blocks and counts as recorded', () => {
    const found = tableRandomisationTest(table, reading, asked);
    expect(found.exact).toBe(true);
    expect(found.runs).toBe(46656);
    expect(found.asExtreme).toBe(10338);
    expect(found.p).toBeCloseTo(0.22157921810699588, 12);
    expect(found.method).toContain('within each block');
  });

  it('shuffles between pots at random where there are no blocks, near the normal theory', () => {
    const found = tableRandomisationTest(table, { ...reading, block: null }, asked);
    expect(found.exact).toBe(false);
    expect(found.runs).toBe(4000);
    expect(found.method).toContain('how the table was drawn is not known');
    const outcome = findingsOfTable(table, { ...reading, block: null });
    const p = outcome.ok ? termOf(outcome.findings.primary.result, ['Variety'])?.p : null;
    // The F distribution approximates that of redraws (Pitman 1937): within 0.03 here.
    expect(Math.abs(found.p - (p ?? 9))).toBeLessThan(0.03);
  });

  it('moves the labels of whole trays between trays, and those of pots within them', () => {
    const split: TableReading = {
      ...bare,
      response: 'yield',
      factors: [
        { column: 'Variety', kind: 'randomised', unit: 'tray' },
        { column: 'nitro', kind: 'randomised', unit: 'pot' },
      ],
      block: 'Block',
      shelf: 'Block',
      tray: 'Variety',
    };
    const oats = tableOf('oats.csv', 'yield');
    const trays = tableRandomisationTest(oats, split, asked);
    expect([trays.unit, trays.runs, trays.exact]).toEqual(['tray', 46656, true]);
    const pots = tableRandomisationTest(oats, split, { ...asked, factors: ['nitro'], runs: 499 });
    expect([pots.unit, pots.exact]).toEqual(['pot', false]);
    expect(pots.method).toMatch(/between the pots with values within each block and tray/);
    expect(pots.p).toBe(1 / 500);
    const given = {
      ...split,
      factors: split.factors.map((f) => ({ ...f, kind: 'fixed' as const })),
    };
    expect(() => tableRandomisationTest(oats, given, asked)).toThrow(/nobody drew/);
  });
});
