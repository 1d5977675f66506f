import { describe, expect, it } from 'vitest';
import { matchTable } from '../../../renderer/document/records';
import { entrySummary } from '../../../renderer/panes/records/grid/entrySummary';
import {
  fromKey,
  choiceOf,
  longWords,
  optionsFor,
} from '../../../renderer/panes/records/importing/columnUses';
import { importSummary } from '../../../renderer/panes/records/importing/importSummary';
import { readTable } from '../../../renderer/tables';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

const first = { withOdd: false, second: false };

/** The sample with an upper bound of 50 g at harvest, and one pot weighed by each of two people. */
function plan(): Plan {
  const sample = drawnPlan();
  if (!sample.trial) throw new Error('the sample has a trial');
  const measurements = sample.trial.measurements.map((m) =>
    m.id === 'm2' ? { ...m, highest: 50 } : m,
  );
  const values = { m2: { 't1:1:1': 11 } };
  const records = { ...sample.records, values, second: { m2: { 't1:1:1': 12 } } };
  return { ...sample, trial: { ...sample.trial, measurements }, records };
}

function previewOf(lines: readonly string[]) {
  const read = readTable(['Pot;Fresh weight at harvest (g)', ...lines].join('\n'));
  if (!read.ok) throw new Error(read.problem);
  return matchTable(plan(), read.table);
}

describe('what taking a table over would do', () => {
  it('counts as changing what is recorded otherwise by the same person', () => {
    const same = previewOf(['1A-A1;11', '1A-A2;12.5']);
    expect(importSummary(plan(), same, first)).toMatchObject({ count: 2, changing: 0 });
    // The second person had 12 where the table has 11.
    expect(importSummary(plan(), same, { ...first, second: true })).toMatchObject({ changing: 1 });
    expect(importSummary(plan(), previewOf(['1A-A1;11.5']), first)).toMatchObject({ changing: 1 });
  });

  it('takes odd values only where they were looked at, and names them until then', () => {
    const preview = previewOf(['1A-A1;51', '1A-A2;50']);
    const waiting = importSummary(plan(), preview, first);
    expect(waiting).toMatchObject({ count: 1, odd: 1, nothing: false });
    expect(waiting.leftOut).toMatchObject([{ code: '1A-A1', why: 'outside the likely range' }]);
    expect(importSummary(plan(), preview, { ...first, withOdd: true })).toMatchObject({ count: 2 });
    expect(importSummary(plan(), previewOf(['1A-A1;51']), first).nothing).toBe(true);
  });

  it('lists lines and cells that are left out in the order of the lines', () => {
    const { leftOut } = importSummary(
      plan(),
      previewOf(['1A-A1;heavy', '9Z-A1;3', '1A-A2;4']),
      first,
    );
    expect(leftOut).toMatchObject([
      { line: 2, text: 'heavy', why: 'a number is expected' },
      { line: 3, code: '9Z-A1', text: '', why: 'no pot of this trial has this code' },
      { line: 3, code: '9Z-A1', text: '3', why: 'no pot for this line' },
    ]);
  });
});

describe('what a column is read as', () => {
  it('comes back from its choice', () => {
    for (const { value } of optionsFor(plan(), { use: 'nothing' })) {
      expect(choiceOf(fromKey(value, { use: 'nothing' }))).toBe(value);
    }
  });

  it('can stay open only where it fits several', () => {
    const open = (use: Parameters<typeof optionsFor>[1]) =>
      optionsFor(plan(), use).some(({ value }) => value === 'ambiguous');
    expect(open({ use: 'ambiguous', measurementIds: ['m1', 'm2'] })).toBe(true);
    expect(open({ use: 'pot' })).toBe(false);
  });

  it('is said of a long table as a whole', () => {
    const columns = [
      { name: 'Pot', use: { use: 'long' as const, part: 'pot' as const } },
      { name: 'Room', use: { use: 'nothing' as const } },
    ];
    expect(longWords(columns)).toBe(
      'A line for every pot and measurement. Read: Pot. Not used: Room.',
    );
    expect(longWords(columns.slice(0, 1))).not.toContain('Not used');
  });
});

describe('how far the entry has come', () => {
  const trays = [
    { pots: 8, open: 3 },
    { pots: 4, open: 0 },
  ];

  it('counts pots over all trays', () => {
    expect(entrySummary('Height', 'first', trays, 0)).toBe('Height: 9 of 12 pots done.');
  });

  it('says whose entry it is, and what was passed over', () => {
    expect(entrySummary('Height', 'second', trays, 2)).toBe(
      'Second entry. Height, second entry: 9 of 12 pots done, 2 passed over.',
    );
  });
});
