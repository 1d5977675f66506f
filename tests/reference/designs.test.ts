import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { fQuantileUpper } from '../../renderer/engine/stats/distributions';
import { prepareDraw } from '../../renderer/engine/trial';
import { levelNumbers } from '../../renderer/engine/trial/rehearsal/rehearse';
import { plannedStrata, testStrata } from '../engine/trial/strata-sums';
import { efficiencyFactor } from '../../renderer/engine/trial/schemes/incomplete';
import { siteOf } from '../../renderer/engine/trial/site';
import { factorOf, inputOf, rackOf, trialOf } from '../engine/trial/sample';

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
  it('has the strata and degrees of freedom of the classical analysis', () => {
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
    const rack = rackOf({ shelves: 6, traysPerShelf: 3, rows: 1, columns: 4 });
    const trial = trialOf([factorOf(1, 'tray', 3), factorOf(2, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'split-plot',
    });
    expect(unitsOf(inputOf(rack, trial)).skeleton.map((row) => row.df)).toEqual(
      lines.map((line) => line.df),
    );
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
    const input = inputOf(rack, trialOf([factorOf(1, 'pot', 5)], design));
    const { site, draw } = prepareDraw(input);
    const values = site.pots.map((pot) => valueAt.get(pot.id) ?? NaN);
    const alive = Uint8Array.from(values, (value) => (Number.isFinite(value) ? 1 : 0));
    expect(alive.reduce((sum, one) => sum + one, 0)).toBe(399);
    const analysis = plannedAnalysis({ ...input, wetDepthByPot: new Map() }, site);
    const start = new Float64Array(values.length);
    const response = Float64Array.from(values);
    const runs = 400;
    let alarms = 0;
    for (let run = 0; run < runs; run++) {
      const levels = levelNumbers(site, draw(`radish ${run}`));
      const [test] = analysis.planned({ alive, start, response, levels });
      if ((test?.p ?? 1) < 0.05) alarms++;
    }
    // Four standard errors of a share of 0.05.
    expect(Math.abs(alarms / runs - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / runs));
  });
});
