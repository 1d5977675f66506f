import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { fQuantileUpper } from '../../renderer/engine/stats/distributions';
import { prepareDraw } from '../../renderer/engine/trial';
import { levelNumbers } from '../../renderer/engine/trial/rehearsal/levels';
import { plannedStrata, testStrata } from '../engine/trial/strataSums';
import { efficiencyFactor } from '../../renderer/engine/trial/schemes/efficiency';
import { siteOf } from '../../renderer/engine/trial/site/siteOf';
import { factorOf, inputOf, rackOf, trialOf } from '../builders/trialInput';

const read = (path: string): string =>
  readFileSync(fileURLToPath(new URL(path, import.meta.url)), 'utf8');

const rowsOf = (path: string): Record<string, string>[] => {
  const [head, ...lines] = read(path).trim().split(/\r?\n/);
  const names = head?.split(',').map((name) => name.replaceAll('"', '')) ?? [];
  return lines.map((line) => {
    const cells = line.split(',').map((cell) => cell.replaceAll('"', ''));
    return Object.fromEntries(names.map((name, i) => [name, cells[i] ?? '']));
  });
};

describe('split plot of the oats', () => {
  it('has the strata, degrees of freedom and F of the classical analysis', () => {
    // expected/04-strata-mixed.json, oats, strata: aov(yield ~ Variety * N + Error(Block/Variety)).
    interface Line {
      term: string;
      df: number;
      F: number | null;
    }
    const expected = JSON.parse(read('expected/04-strata-mixed.json')) as {
      sets: { oats: { figures: { strata: { value: Record<string, Line[]> } } } };
    };
    const lines = Object.values(expected.sets.oats.figures.strata.value).flat();
    const oats = rowsOf('data/oats.csv');
    const varieties = [...new Set(oats.map((row) => row.Variety))];
    const rates = [...new Set(oats.map((row) => row.nitro))];
    const blocks = [...new Set(oats.map((row) => row.Block))];
    const ordered = [...oats].sort(
      (a, b) =>
        blocks.indexOf(a.Block) - blocks.indexOf(b.Block) ||
        varieties.indexOf(a.Variety) - varieties.indexOf(b.Variety),
    );
    const rack = rackOf({ shelves: 6, traysPerShelf: 3, rows: 1, columns: 4 });
    const trial = trialOf([factorOf(1, 'tray', 3), factorOf(2, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
    });
    const levels = new Map([
      ['f1', Int32Array.from(ordered, (row) => varieties.indexOf(row.Variety))],
      ['f2', Int32Array.from(ordered, (row) => rates.indexOf(row.nitro))],
    ]);
    const y = Float64Array.from(ordered, (row) => Number(row.yield));
    const plans = plannedStrata(siteOf(inputOf(rack, trial)), levels);
    const tests = testStrata(plans, [y], new Uint8Array(72).fill(1));
    const tested = lines.filter((line) => line.F !== null);
    expect(tests.map((test) => test.df)).toEqual(tested.map((line) => line.df));
    expect(tests.map((test) => test.dfError)).toEqual([10, 45, 45]);
    tests.forEach((test, i) => {
      const wanted = tested[i]?.F ?? NaN;
      expect(Math.abs((test.f[0] ?? NaN) / wanted - 1)).toBeLessThan(1e-10);
    });
  });
});

describe('balanced incomplete blocks of the detergents', () => {
  it('have the efficiency factor of their parameters', () => {
    // Five detergents, ten blocks of three plates (Scheffé 1959): r 6, λ 3, E = λt/(rk) = 15/18.
    const rows = rowsOf('data/detergent.csv');
    const blockNames = [...new Set(rows.map((row) => row.block))];
    const treatments = [...new Set(rows.map((row) => row.detergent))];
    const design = blockNames.map((name) =>
      rows.filter((row) => row.block === name).map((row) => treatments.indexOf(row.detergent)),
    );
    expect(efficiencyFactor(design, treatments.length)).toBeCloseTo(15 / 18, 12);
  });
});

describe('uniformity trial of radishes', () => {
  // Heath 1970: 400 plants treated alike in four basins of 10 × 10, edge plants larger. Whatever
  // design is laid over them, a sound analysis finds something no more often than its level.
  const radish = rowsOf('uniformity/heath.radish.uniformity.csv');
  const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 10, columns: 10 });
  const valueAt = new Map<string, number>(
    radish.map((row) => {
      const basin = Number(row.block?.replace('B', ''));
      const r = ((Number(row.row) - 1) % 10) + 1;
      const c = ((Number(row.col) - 1) % 10) + 1;
      return [`t${basin}01:${r}:${c}`, Number(row.yield)] as const;
    }),
  );

  it.each([
    ['blocks by tray', { blocks: { by: 'tray' }, scheme: 'complete-blocks' }],
    ['blocks by tray quarter', { blocks: { by: 'tray-quarters' }, scheme: 'complete-blocks' }],
    ['Latin squares', { scheme: 'latin-square' }],
    ['no blocks', {}],
  ] as const)('raises no more false alarms than its level with %s', (_, design) => {
    const { site, draw } = prepareDraw(inputOf(rack, trialOf([factorOf(1, 'pot', 5)], design)));
    const values = site.pots.map((pot) => valueAt.get(pot.id) ?? NaN);
    const alive = Uint8Array.from(values, (value) => (Number.isFinite(value) ? 1 : 0));
    expect(alive.reduce((sum, one) => sum + one, 0)).toBe(399);
    const y = Float64Array.from(values, (value) => (Number.isFinite(value) ? value : 0));
    const runs = 300;
    let alarms = 0;
    for (let run = 0; run < runs; run++) {
      const plans = plannedStrata(site, levelNumbers(site, draw(`radish ${run}`)));
      const [test] = testStrata(plans, [y], alive);
      if ((test?.f[0] ?? 0) > fQuantileUpper(0.05, 4, test?.dfError ?? 1)) alarms++;
    }
    // Four standard errors of a share of 0.05.
    expect(Math.abs(alarms / runs - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / runs));
  });
});
