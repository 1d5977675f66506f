import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fit } from '../../renderer/engine/stats/fit';
import type { Allocation } from '../../renderer/engine/stats/randomisation';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { fitRequestSchema } from '../../shared-types/fit';
import { fieldAlarms, shareBelow } from '../bench/falseAlarms';
import { readCsv } from './figures';

// Source: tests/reference/make/26-randomisation-ar1.R (R 4.2.2): REML of the variance parameters without the
// feeds, then the F of feed by generalised least squares for all 216 layouts.
const request = fitRequestSchema.parse({
  response: 'y',
  treatments: ['feed'],
  interactions: 'none',
  fixedBlocks: ['tray'],
  tests: 'marginal',
  denominator: 'units',
  means: [['feed']],
  compare: [{ means: 'feed', method: 'tukey' }],
  position: { row: 'row', column: 'column', within: ['tray'], model: 'ar1' },
});

describe('tests of what was drawn over pots, under likeness of neighbours', () => {
  it('count the layouts that the generalised F of R counts', () => {
    const table = readCsv('data/randomisation_ar1.csv', categoryColumns(request));
    const [trays = [], rows = [], feeds = []] = ['tray', 'row', 'feed'].map((name) =>
      (table.columns[name] ?? []).map(String),
    );
    // Whole rows of a tray have one feed, two rows each: six ways a tray, three trays.
    const orders = ['1100', '1010', '1001', '0110', '0101', '0011'];
    const names = [...new Set(trays)];
    const allocation: Allocation = {
      factors: ['feed'],
      runs: 216,
      seed: 'R',
      within: 'tray',
      groups: Int32Array.from(trays, (tray) => names.indexOf(tray)),
      levels: feeds.map((level) => [level]),
      anew: (run) => ({
        combinations: [['weak'], ['strong']],
        codes: Int32Array.from(trays, (tray, i) => {
          const order = orders[Math.floor(run / 6 ** names.indexOf(tray)) % 6];
          return Number(order?.[Number(rows[i]) - 1] === '1');
        }),
      }),
    };
    const { terms, comparisons, means, method } = fit(request, table, allocation);
    const feed = terms.find(({ term }) => term === 'feed');
    expect(feed?.randomised).toMatchObject({ layouts: 216, asExtreme: 12 });
    expect(feed?.p).toBeCloseTo(13 / 217, 12);
    expect(method).toContain('Randomisation test of feed');
    // Means are by the least squares that differences come from.
    const mean = (level: string) =>
      means[0]?.rows.find((row) => row['feed'] === level)?.mean ?? Number.NaN;
    for (const row of comparisons[0]?.rows ?? []) {
      expect(row.difference).toBeCloseTo(mean(row.a) - mean(row.b), 9);
    }
  });
});

describe('treatments that do nothing, drawn in complete blocks on a field of barley', () => {
  it.each(['smooth', 'ar1'] as const)('are called different as often as asked: %s', (model) => {
    const { share, se } = shareBelow(fieldAlarms('barley', model, 1500, 'short'), 0.05);
    // Kenward and Roger's test calls 7 of 100 different under likeness of neighbours.
    expect(share).toBeLessThan(0.05 + 3 * se);
    expect(share).toBeGreaterThan(0.05 - 3 * se);
  });
});

// Source: tests/reference/make/29-max-t.R (R 4.2.2): the largest |t| of six pairs over 576 layouts.
describe('differences of four levels under neighbouring pots alike', () => {
  const source = JSON.parse(
    readFileSync(new URL('expected/29-max-t.json', import.meta.url), 'utf8'),
  ) as {
    layouts: number;
    ways: number[][];
    y: number[];
    pairs: { a: string; b: string; t: number; asExtreme: number }[];
  };

  it('are judged by the largest |t| of the layouts, as in R', () => {
    const table = readCsv('data/randomisation_ar1.csv', ['tray', 'feed']);
    const [trays = [], rows = []] = [table.columns['tray'], table.columns['row']];
    const media = ['bark', 'clay', 'coir', 'peat'];
    const still = [
      [1, 2, 3, 4],
      [3, 1, 4, 2],
      [2, 4, 1, 3],
    ];
    const laid = (orders: readonly (readonly number[])[]) =>
      Int32Array.from(trays, (tray, i) => {
        const order = orders['ABC'.indexOf(String(tray))];
        return (order?.[Number(rows[i]) - 1] ?? 1) - 1;
      });
    const medium = Array.from(laid(still), (code) => media[code] ?? '');
    const asked = fitRequestSchema.parse({
      response: 'y',
      treatments: ['medium'],
      interactions: 'none',
      fixedBlocks: ['tray'],
      tests: 'marginal',
      denominator: 'units',
      compare: [{ means: 'medium', method: 'tukey' }],
      position: { row: 'row', column: 'column', within: ['tray'], model: 'ar1' },
    });
    const allocation: Allocation = {
      factors: ['medium'],
      runs: source.layouts,
      seed: 'R',
      within: 'tray',
      groups: Int32Array.from(trays, (tray) => 'ABC'.indexOf(String(tray))),
      levels: medium.map((level) => [level]),
      anew: (run) => {
        const [a = [], b = []] = [source.ways[Math.floor(run / 24)], source.ways[run % 24]];
        return {
          combinations: media.map((level) => [level]),
          codes: laid([a, b, still[2] ?? []]),
        };
      },
    };
    const columns = { ...table.columns, medium, y: source.y };
    const { comparisons } = fit(asked, { ...table, columns }, allocation);
    const found = comparisons[0]?.rows ?? [];
    expect(found).toHaveLength(6);
    for (const { a, b, t, asExtreme } of source.pairs) {
      const row = found.find((one) => [one.a, one.b].sort().join() === [a, b].join());
      expect(Math.abs(Math.abs(row?.statistic ?? NaN) - Math.abs(t))).toBeLessThan(1e-4);
      expect(row?.p, `${a} ${b}`).toBeCloseTo((1 + asExtreme) / (1 + source.layouts), 12);
    }
    expect(found.some(({ p }) => p < 0.05) && found.some(({ p }) => p > 0.2)).toBe(true);
  });
});
