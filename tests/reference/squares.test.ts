import { describe, expect, it } from 'vitest';
import { termOf } from '../../renderer/engine/findings';
import { unitsOf } from '../../renderer/engine/trial';
import type { FitResult } from '../../shared-types/fit';
import type { Layout } from '../../shared-types/layout';
import type { Trial } from '../../shared-types/trial/trial';
import type { PositionModel } from '../../shared-types/trial/position';
import { factorOf, inputOf, rackOf, trialOf } from '../builders/trialInput';
import { expectClose, readCsv, readSets } from './figures';
import type { Row } from './figures';
import { analysisOf } from './publishedLayout';

// Bees kept off by eight sprays, a Latin square of eight: Finney 1947, Probit Analysis, Cambridge
// University Press; analysed with rows and columns in 04-strata-mixed.json.
const square = readSets('04-strata-mixed')['orchardsprays'];
const published = (square?.figures['anova']?.value ?? []) as Row[];
const cells = readCsv('data/orchardsprays.csv', new Set(['treatment']));

interface Cell {
  row: number;
  column: number;
  spray: number;
  decrease: number;
}
const sprays: Cell[] = Array.from({ length: cells.rowCount }, (_, i) => ({
  row: Number(cells.columns['rowpos']?.[i]),
  column: Number(cells.columns['colpos']?.[i]),
  spray: 'ABCDEFGH'.indexOf(String(cells.columns['treatment']?.[i])) + 1,
  decrease: Number(cells.columns['decrease']?.[i]),
}));

const latin = (unit: 'pot' | 'tray', more: Partial<Trial> = {}): Trial =>
  trialOf([factorOf(1, unit, 8)], {
    scheme: 'latin-square',
    measurements: [
      {
        id: 'm1',
        name: 'decrease',
        kind: 'count',
        unit: '',
        decimals: 0,
        timepoint: 'harvest',
        date: null,
        lowest: null,
        highest: null,
      },
    ],
    primaryOutcomeId: 'm1',
    ...more,
  });

/** The analysis of the square under one position model, its cells standing at the given pots. */
function analysis(
  rack: ReturnType<typeof rackOf>,
  trial: Trial,
  potsOf: (cell: Cell) => { potId: string; more: number }[],
  model: PositionModel = 'none',
): FitResult {
  const assignments: Layout['assignments'] = [];
  const values: Record<string, number> = {};
  for (const cell of sprays) {
    for (const { potId, more } of potsOf(cell)) {
      assignments.push({ potId, levels: { f1: `l10${cell.spray}` }, block: 'all', plant: null });
      values[potId] = cell.decrease + more;
    }
  }
  return analysisOf(rack, trial, assignments, values, model);
}

function expectPublished(result: FitResult, tolerance: number): void {
  const want = published.find((row) => row['term'] === 'treatment');
  const error = published.find((row) => row['term'] === 'Residuals');
  const got = termOf(result, ['Factor 1']);
  expect(got?.df).toBe(want?.['df']);
  expectClose(got?.statistic, want?.['F'], tolerance, 'F');
  expectClose(got?.dfError, error?.['df'], tolerance, 'error df');
}

describe('the Latin square of the sprays', () => {
  const oneTray = rackOf({ shelves: 1, traysPerShelf: 1, rows: 8, columns: 8 });
  const onePot = ({ row, column }: Cell) => [{ potId: `t101:${row}:${column}`, more: 0 }];

  it('is judged in the findings with rows and columns taken out, as its skeleton says', () => {
    expectPublished(analysis(oneTray, latin('pot'), onePot), 1e-9);
    const { skeleton } = unitsOf(inputOf(oneTray, latin('pot')));
    expect(skeleton.at(-1)).toMatchObject({ df: published.at(-1)?.['df'] });
  });

  it('lets position models bring in rows and columns of their own', () => {
    // Rows and columns at random: both vary more than the error, and the square is balanced, so that F
    // and its degrees of freedom are those of the strata (lmerTest 3.1.3: 21.067 on 42.0).
    expectPublished(analysis(oneTray, latin('pot'), onePot, 'rows+columns'), 1e-6);
  });

  it('is judged by trays where whole trays make the square', () => {
    // Four pots a tray, spread about the tray's value, leave F and its degrees of freedom as they are.
    const trays = rackOf({ shelves: 8, traysPerShelf: 8, rows: 2, columns: 2 });
    const spread = [-3, 1, 2.5, -0.5];
    const result = analysis(trays, latin('tray'), ({ row, column }) =>
      spread.map((more, i) => ({
        potId: `t${100 * row + column}:${1 + (i % 2)}:${1 + Math.floor(i / 2)}`,
        more,
      })),
    );
    expectPublished(result, 1e-6);
  });
});
