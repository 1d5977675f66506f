import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  bartlett,
  brownForsythe,
  levene,
  moran,
  shapiroWilk,
} from '../../renderer/engine/stats/checks';

/**
 * Sources: expected/07-checks-spatial.json (R: car leveneTest, bartlett.test, shapiro.test, spdep
 * moran.test) and the cases of fit/ with checks.
 */
function read(path: string): string {
  return readFileSync(new URL(`./${path}`, import.meta.url), 'utf8');
}

type Row = Record<string, string>;

function table(path: string): Row[] {
  const [header = '', ...lines] = read(path).trim().split(/\r?\n/);
  const names = header.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    return Object.fromEntries(names.map((name, i) => [name, cells[i] ?? '']));
  });
}

interface Figures {
  levene_mean: { value: { df: number; F: number | null; p: number | null }[] };
  brown_forsythe: { value: { df: number; F: number | null; p: number | null }[] };
  bartlett?: { value: { statistic: number; parameter: number; p: number } };
  shapiro_residuals: { value: { statistic: number; p: number } };
  [name: string]: { value: unknown } | undefined;
}
const { sets } = JSON.parse(read('expected/07-checks-spatial.json')) as {
  sets: Record<string, { figures: Figures }>;
};
function figures(set: string): Figures {
  const found = sets[set]?.figures;
  if (!found) throw new Error(`no figures for ${set}`);
  return found;
}

const near = (got: number, expected: number | null | undefined, relative: number): void => {
  if (typeof expected !== 'number') throw new Error('expected figure missing');
  expect(Math.abs(got / expected - 1), `${got} against ${expected}`).toBeLessThan(relative);
};
const numbers = (rows: Row[], name: string): number[] => rows.map((row) => Number(row[name]));
const keys = (rows: Row[], names: string[]): string[] =>
  rows.map((row) => names.map((name) => row[name]).join(' × '));

/** Residuals of a model of group means. */
function fromGroupMeans(values: number[], groups: string[]): number[] {
  const sums = new Map<string, [number, number]>();
  values.forEach((value, i) => {
    const [sum, n] = sums.get(groups[i] ?? '') ?? [0, 0];
    sums.set(groups[i] ?? '', [sum + value, n + 1]);
  });
  return values.map((value, i) => {
    const [sum, n] = sums.get(groups[i] ?? '') ?? [0, 1];
    return value - sum / n;
  });
}

describe('spread and normality', () => {
  it.each([
    ['plantgrowth', 'weight', ['group']],
    ['insectsprays', 'count', ['spray']],
    ['toothgrowth', 'len', ['supp', 'dose']],
  ] as const)('%s', (name, response, factors) => {
    const rows = table(`data/${name}.csv`);
    const values = numbers(rows, response);
    const groups = keys(rows, [...factors]);
    const expected = figures(`${name}_checks`);

    for (const [test, figure] of [
      [levene, expected.levene_mean],
      [brownForsythe, expected.brown_forsythe],
    ] as const) {
      const got = test(values, groups);
      const [between, within] = figure.value;
      near(got.statistic, between?.F, 1e-9);
      near(got.p, between?.p, 1e-9);
      expect([got.df, got.dfError]).toEqual([between?.df, within?.df]);
    }

    if (expected.bartlett) {
      const got = bartlett(values, groups);
      near(got.statistic, expected.bartlett.value.statistic, 1e-9);
      near(got.p, expected.bartlett.value.p, 1e-9);
      expect(got.df).toBe(expected.bartlett.value.parameter);
    }

    const normality = shapiroWilk(fromGroupMeans(values, groups));
    near(normality.w, expected.shapiro_residuals.value.statistic, 1e-9);
    near(normality.p, expected.shapiro_residuals.value.p, 1e-6);
  });

  it('radish basins (fit case)', () => {
    const rows = table('fit/radish-basins-spread/table.csv').filter((row) => row['yield'] !== '');
    const values = numbers(rows, 'yield');
    const groups = keys(rows, ['block']);
    const { checks } = (
      JSON.parse(read('fit/radish-basins-spread/expected.json')) as {
        expected: { checks: Record<string, { statistic: number; p: number }> };
      }
    ).expected;
    for (const [name, test] of [
      ['brown-forsythe', brownForsythe],
      ['levene', levene],
      ['bartlett', bartlett],
    ] as const) {
      const got = test(values, groups);
      near(got.statistic, checks[name]?.statistic, 1e-9);
      near(got.p, checks[name]?.p, 1e-9);
    }
  });
});

describe("Moran's I", () => {
  const grids = [
    { set: 'orchardsprays_grid', file: 'orchardsprays', y: 'decrease', trt: 'treatment' },
    { set: 'wheat2', file: 'wheat2', y: 'yield', trt: 'variety' },
    { set: 'rack_a_grid', file: 'rack_a_grid', y: 'final_g', trt: 'variety' },
  ];

  function grid(file: string): { rows: Row[]; row: number[]; column: number[] } {
    const all = table(`data/${file}.csv`);
    if (file === 'orchardsprays') {
      return { rows: all, row: numbers(all, 'rowpos'), column: numbers(all, 'colpos') };
    }
    if (file === 'wheat2')
      return { rows: all, row: numbers(all, 'row'), column: numbers(all, 'col') };
    // As the set's `setup` lines: living plants, four trays of four columns side by side.
    const rows = all.filter((row) => row['status'] === 'alive');
    const trays = [...new Set(rows.map((row) => row['tray_id'] ?? ''))].sort();
    const column = rows.map((row) => Number(row['col']) + 4 * trays.indexOf(row['tray_id'] ?? ''));
    return { rows, row: numbers(rows, 'row'), column };
  }

  it.each(grids)('$set', ({ set, file, y, trt }) => {
    const { rows, row, column } = grid(file);
    const response = numbers(rows, y);
    const residuals = fromGroupMeans(response, keys(rows, [trt]));
    for (const neighbours of ['rook', 'queen'] as const) {
      for (const [what, values] of [
        ['response', response],
        ['residuals', residuals],
      ] as const) {
        const expected = figures(set)[`moran_${what}_${neighbours}`]?.value as Record<
          string,
          number
        >;
        const got = moran({ values, rows: row, columns: column, neighbours });
        near(got.i, expected['I'], 1e-9);
        near(got.expected, expected['expectation'], 1e-12);
        near(got.variance, expected['variance'], 1e-9);
        near(got.p, expected['p_two_sided'], 1e-9);
        expect(got.withoutNeighbours).toBe(0);
      }
    }
  });
});
