import { describe, expect, it } from 'vitest';
import { enterValues, importValues } from '../../../renderer/document/commands';
import {
  matchTable,
  recordsCsv,
  recordsDictionaryCsv,
  recordsLongCsv,
  toValues,
} from '../../../renderer/document/records';
import { seenFrom, seenFromEach } from '../../../renderer/document/runs';
import { optionsFor } from '../../../renderer/panes/records/importing/columnUses';
import { readTable, type TextTable } from '../../../renderer/tables';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';
import { twoRuns } from '../../builders/twoRuns';

function read(text: string): TextTable {
  const table = readTable(text);
  if (!table.ok) throw new Error(table.problem);
  return table.table;
}

const weighed = (plan: Plan, value: number): Plan =>
  run(plan, enterValues, { measurementId: 'm2', entries: [{ potId: 't1:1:1', value }] });

/** 31 g in run 1, 42 g in run 2, seen from run 2. */
function recorded(): Plan {
  const second = twoRuns();
  const first = weighed(seenFrom(second, 'run0'), 31);
  return weighed(seenFrom(first, second.runId), 42);
}

describe('tables of a trial with several runs', () => {
  const plan = recorded();
  it.each([
    ['wide', recordsCsv],
    ['long', recordsLongCsv],
  ] as const)('go out with a column for the run: %s', (shape, write) => {
    const own = read(write(plan));
    expect(own.columns[0]).toBe('run');
    expect(new Set(own.rows.map(({ cells }) => cells[0]))).toEqual(new Set(['2']));
    const all = read(write(plan, {}, seenFromEach(plan)));
    expect(all.columns).toEqual(own.columns);
    expect(all.rows).toHaveLength(2 * own.rows.length);
    const [one, two] = [all.rows[0], all.rows[own.rows.length]];
    expect([one?.cells[0], two?.cells[0]]).toEqual(['1', '2']);
    expect([one?.cells.includes('P1'), two?.cells.includes('Q1')]).toEqual([true, true]);
    const dictionary = read(recordsDictionaryCsv(plan, shape, {}, seenFromEach(plan)));
    expect(dictionary.rows.map(({ cells }) => cells[0])).toEqual(all.columns);
    // Grown once, it goes out as it always did.
    expect(read(write(drawnPlan())).columns[0]).toBe('pot');
  });

  it.each([
    ['wide', recordsCsv],
    ['long', recordsLongCsv],
  ] as const)('come in run by run, and the lines of others are counted: %s', (_, write) => {
    const all = read(write(plan, {}, seenFromEach(plan)));
    const lines = all.rows.length / 2;
    for (const [empty, value, other] of [
      [twoRuns(), 42, 'run 1'],
      [seenFrom(twoRuns(), 'run0'), 31, 'run 2'],
    ] as const) {
      const preview = matchTable(empty, all);
      expect(preview).toMatchObject({ problem: null, rows: [], missingPots: [] });
      expect(preview.otherRuns).toEqual([{ name: other, lines }]);
      const filled = run(empty, importValues, { ...toValues(preview, true), second: false });
      expect(filled.records.values).toEqual({ m2: { 't1:1:1': value } });
    }
  });

  it('leave out lines whose run cannot be read or is none of the trial', () => {
    const table = read(
      ['run,pot,fresh weight at harvest (g)', 'Run 2,1A-A1,5', '3,1A-A2,6', 'spring,1A-A3,7'].join(
        '\n',
      ),
    );
    const preview = matchTable(plan, table);
    expect(preview.rows).toEqual([
      { line: 3, code: '', problem: 'no-run' },
      { line: 4, code: '', problem: 'no-run' },
    ]);
    expect(toValues(preview, true).values).toMatchObject([{ potId: 't1:1:1', value: 5 }]);
    // Told that the column is not used, all lines are of the run in hand.
    expect(matchTable(plan, table, { 0: { use: 'nothing' } })).toMatchObject({
      rows: [],
      otherRuns: [],
    });
    // With a single run it is a column like any other.
    expect(matchTable(drawnPlan(), table)).toMatchObject({ rows: [], otherRuns: [] });
    expect(optionsFor(drawnPlan(), { use: 'nothing' })).not.toContainEqual({
      value: 'run',
      label: 'run',
    });
  });

  it('without the column are of the run in hand, and a code of another run is told', () => {
    const table = read('pot,fresh weight at harvest (g)\nR2-1A-A1,5\nR1-1A-A2,6\n9Z-A1,7');
    const preview = matchTable(plan, table);
    expect(preview.rows).toMatchObject([
      { line: 3, problem: 'code-of-other-run' },
      { line: 4, problem: 'unknown-code' },
    ]);
    expect(toValues(preview, true).values).toHaveLength(1);
  });
});
