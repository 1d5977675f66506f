import { describe, expect, it } from 'vitest';
import { importValues } from '../../../renderer/document/commands';
import { matchTable, pasteColumn, recordsCsv, toValues } from '../../../renderer/document/records';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';
import { readTable, type TextTable } from '../../../renderer/tables';

function table(text: string): TextTable {
  const read = readTable(text);
  if (!read.ok) throw new Error(read.problem);
  return read.table;
}

/** The sample with an upper bound of 50 g at harvest. */
function boundedPlan(): Plan {
  const plan = drawnPlan();
  if (!plan.trial) throw new Error('the sample has a trial');
  const measurements = plan.trial.measurements.map((m) =>
    m.id === 'm2' ? { ...m, highest: 50 } : m,
  );
  return {
    ...plan,
    trial: { ...plan.trial, measurements },
    records: { ...plan.records, values: { m2: { 't1:1:1': 11 } } },
  };
}

describe('holding a table against the plan', () => {
  const outcomes = (values: readonly string[], decimal?: '.' | ',') => {
    const text = ['Pot;Fresh weight at harvest (g)'];
    for (const [i, value] of values.entries()) text.push(`1A-A${i + 1};${value}`);
    const read = readTable(text.join('\n'), { decimal: decimal ?? 'auto' });
    if (!read.ok) throw new Error(read.problem);
    return matchTable(drawnPlan(), read.table).cells.map(({ outcome }) =>
      outcome.kind === 'value' ? outcome.value : outcome.kind,
    );
  };

  it('asks where a mark can stand before decimals or between thousands', () => {
    expect(outcomes(['1.234', '12,5', '3,456'])).toEqual(['two-readings', 12.5, 3.456]);
    expect(outcomes(['1,234', '12.5', '3.456'])).toEqual(['two-readings', 12.5, 3.456]);
    expect(outcomes(['1,234', '2,345', '3'])).toEqual(['two-readings', 'two-readings', 3]);
    expect(outcomes(['1.234', '2.345', '3'])).toEqual(['two-readings', 'two-readings', 3]);
    // The person says which; other ways of writing leave nothing open.
    expect(outcomes(['1.234', '2.345', '3'], ',')).toEqual([1234, 2345, 3]);
    expect(outcomes(['1.234', '2.345', '3'], '.')).toEqual([1.234, 2.345, 3]);
    expect(outcomes(['0.234', '2.345', '3'])).toEqual([0.234, 2.345, 3]);
  });

  it('asks the same of a pasted column, and takes back what is recorded', () => {
    const paste = (text: string, m1: Record<string, number> = {}) =>
      pasteColumn({ ...drawnPlan(), records: { ...drawnPlan().records, values: { m1 } } }, text, {
        measurementId: 'm1',
        fromPotId: 't1:1:1',
      }).cells.map(({ outcome }) => outcome.kind);
    expect(paste('1,234\n2,345')).toEqual(['two-readings', 'two-readings']);
    expect(paste('1,234\n2,5')).toEqual(['value', 'value']);
    expect(paste('1.234', { 't1:1:1': 1.234 })).toEqual(['value']);
  });

  it('asks about weights and counts below zero, unless their own range says so', () => {
    expect(outcomes(['-7', '0'])).toEqual(['out-of-range', 0]);
  });

  it('finds pots by what is printed on a label and by what older labels carry', () => {
    const preview = matchTable(
      boundedPlan(),
      table('Pot;Fresh weight at harvest (g)\n]Q1t1:1:2;12,5\nT2:1:1;13,5\n1a-b1;14,5'),
    );
    expect(preview.rows).toEqual([]);
    expect(preview.cells.map(({ potId }) => potId)).toEqual(['t1:1:2', 't2:1:1', 't1:2:1']);
  });

  it('accounts for every cell and row', () => {
    const preview = matchTable(
      boundedPlan(),
      table(
        [
          'Pot;Fresh weight at harvest (g);status;seen by',
          '1A-A1;12,5;;fine', // replaces a value
          '1aa2;61;;', // out of range
          '1A A3;heavy;dead;', // no number, a mark
          '1A-B1;;missing;',
          '9Z-A1;3;;', // unknown
          '2A-A1;4;;',
          '2a-a1;5;pale;', // twice
          ';6;;',
          '1A-B2;7;pale;',
        ].join('\n'),
      ),
    );
    expect(preview.problem).toBeNull();
    expect(preview.columns.map(({ use }) => use)).toEqual([
      { use: 'pot' },
      { use: 'measurement', measurementId: 'm2' },
      { use: 'mark' },
      { use: 'nothing' },
    ]);
    const said = preview.cells.map(
      ({ line, code, outcome }) =>
        `${line} ${code} ${outcome.kind}${'value' in outcome ? ` ${outcome.value}/${outcome.replaces ?? ''}` : ''}`,
    );
    expect(said).toEqual([
      '2 1A-A1 value 12.5/11',
      '2 1A-A1 blank',
      '3 1A-A2 out-of-range 61/',
      '3 1A-A2 blank',
      '4 1A-A3 not-a-number',
      '4 1A-A3 mark',
      '5 1A-B1 blank',
      '5 1A-B1 mark',
      '6 9Z-A1 no-pot',
      '6 9Z-A1 blank',
      '7 2A-A1 no-pot',
      '7 2A-A1 blank',
      '8 2A-A1 no-pot',
      '8 2A-A1 no-pot',
      '9  no-pot',
      '9  blank',
      '10 1A-B2 value 7/',
      '10 1A-B2 not-a-mark',
    ]);
    expect(preview.rows).toEqual([
      { line: 6, code: '9Z-A1', problem: 'unknown-code' },
      { line: 7, code: '2A-A1', problem: 'code-twice' },
      { line: 8, code: '2a-a1', problem: 'code-twice' },
      { line: 9, code: '', problem: 'no-code' },
    ]);
    expect(preview.missingPots.map((pot) => pot.code)).toEqual([
      '1A-B3',
      '2A-A2',
      '2A-A3',
      '2A-B1',
      '2A-B2',
      '2A-B3',
    ]);
    expect(toValues(preview, false)).toMatchObject({
      values: [
        { measurementId: 'm2', potId: 't1:1:1', value: 12.5 },
        { measurementId: 'm2', potId: 't1:2:2', value: 7 },
      ],
      marks: [
        { potId: 't1:1:3', mark: 'dead' },
        { potId: 't1:2:1', mark: 'missing' },
      ],
    });
    expect(toValues(preview, true).values).toHaveLength(3);
  });

  it('asks where a column’s name fits several measurements, and takes nothing until told', () => {
    const text = table('pot,fresh weight\n1A-A1,3\n');
    const preview = matchTable(samplePlan(), text);
    expect(preview.columns[1]?.use).toEqual({ use: 'ambiguous', measurementIds: ['m1', 'm2'] });
    expect(preview.problem).toBe('Say which measurement the column fresh weight holds.');
    expect(toValues(preview, true).values).toEqual([]);
    const told = matchTable(samplePlan(), text, { 1: { use: 'measurement', measurementId: 'm1' } });
    expect(toValues(told, false).values).toEqual([
      { measurementId: 'm1', potId: 't1:1:1', value: 3 },
    ]);
  });

  it('finds the column of codes by what is in it', () => {
    const preview = matchTable(samplePlan(), table('Topf\tharvest\n1A-A1\t3\n'));
    expect(preview.columns.map(({ use }) => use.use)).toEqual(['pot', 'measurement']);
  });

  it.each([
    ['pot weight\n1A-A1 3\n', 'The table has one column only; choose what separates its columns.'],
    ['name,weight\nx,3\n', 'No column holds the codes of the pots, and none tray, row and column.'],
    ['pot,height\n1A-A1,3\n', 'No column holds a measurement of the trial.'],
    ['pot,code,harvest\n1A-A1,1A-A1,3\n', 'pot and code are both taken for the pot code.'],
    ['pot,harvest,m2\n1A-A1,3,4\n', 'harvest and m2 are taken for the same measurement.'],
  ])('says what is wrong with %j', (text, problem) => {
    expect(matchTable(samplePlan(), table(text)).problem).toBe(problem);
  });

  it('takes no number from what is none', () => {
    const odd = [
      '1e400',
      'NaN',
      'Infinity',
      '=1+1',
      '12.03.2026',
      '2026-03-12',
      '1 234',
      '12 mm',
      '0x1F',
    ];
    const codes = ['1A-A1', '1A-A2', '1A-A3', '1A-B1', '1A-B2', '1A-B3', '2A-A1', '2A-A2', '2A-A3'];
    const lines = odd.map((cell, i) => `${codes[i] ?? ''},${cell}\n`).join('');
    const preview = matchTable(samplePlan(), table(`pot,harvest\n${lines}2A-B1,-3\n`));
    expect(preview.cells.map(({ outcome }) => outcome.kind)).toEqual([
      ...odd.map((cell) => (cell === '12 mm' ? 'other-unit' : 'not-a-number')),
      // A weight below nothing, under the usual bound of 0.
      'out-of-range',
    ]);
  });

  it('does not take the number of a line that was cut off', () => {
    const preview = matchTable(samplePlan(), table('pot,harvest,mark\n1A-A1,3,\n1A-A2,1'));
    expect(preview.rows).toEqual([{ line: 3, code: '1A-A2', problem: 'cut-off' }]);
    expect(toValues(preview, true).values).toHaveLength(1);
  });

  it('reads decimals by the columns of values alone', () => {
    const preview = matchTable(samplePlan(), table('pot;harvest;remark\n1A-A1;12,5;5.2\n'));
    expect(preview.decimal).toBe(',');
    expect(toValues(preview, true).values).toMatchObject([{ value: 12.5 }]);
  });

  it('does not choose between trays that share a code', () => {
    const plan = samplePlan();
    const shelves = plan.rack.shelves.map((shelf) => ({ ...shelf, number: 1 }));
    const twin = { ...plan, rack: { ...plan.rack, shelves } };
    const preview = matchTable(twin, table('pot,harvest\n1A-A1,3\n'));
    expect(preview.rows).toEqual([{ line: 2, code: '1A-A1', problem: 'code-of-several-pots' }]);
    expect(toValues(preview, true).values).toEqual([]);
  });
});

describe('pasting a column of numbers', () => {
  it('walks row by row, every second row backwards, and skips empty lines', () => {
    const to = { measurementId: 'm2', fromPotId: 't1:1:2' };
    const paste = pasteColumn(samplePlan(), '1,5\n2\n\nx\n5\n', to);
    expect(paste.cells.map(({ code, outcome }) => [code, outcome.kind])).toEqual([
      ['1A-A2', 'value'],
      ['1A-A3', 'value'],
      ['1A-B3', 'blank'],
      ['1A-B2', 'not-a-number'],
      ['1A-B1', 'value'],
    ]);
    expect(toValues(paste, false).values.map(({ value }) => value)).toEqual([1.5, 2, 5]);
  });

  it('says which numbers find no pot', () => {
    const to = { measurementId: 'm2', fromPotId: 't2:2:2' };
    const paste = pasteColumn(samplePlan(), '1\r\n2\r\n3\r\n', to);
    expect(paste.cells.map(({ code }) => code)).toEqual(['2A-B2', '2A-B1']);
    expect(paste.beyond).toEqual([{ line: 3, text: '3' }]);
  });

  it('refuses several columns and a start outside the grid', () => {
    const plan = samplePlan();
    expect(
      pasteColumn(plan, '1\t2', { measurementId: 'm2', fromPotId: 't1:1:1' }).problem,
    ).toContain('Line 1 has several cells');
    expect(pasteColumn(plan, '1', { measurementId: 'm2', fromPotId: 't9:1:1' }).problem).toBe(
      'The pasting starts at no measured pot.',
    );
  });
});

describe('the table of records', () => {
  const plan = drawnPlan();
  const filled: Plan = {
    ...plan,
    records: {
      ...plan.records,
      values: { m1: { 't1:1:1': 2.25 }, m2: { 't1:1:1': 30.5, 't2:2:3': 7 } },
      marks: { 't1:1:2': { mark: 'dead', date: null, reason: 'rot' } },
    },
  };

  it('has a row for every pot and a column for everything known of it', () => {
    const lines = recordsCsv(filled).split('\r\n');
    expect(lines[0]).toBe(
      'pot,shelf,tray,row,column,block,light,medium,plant,' +
        'fresh weight at start (g),fresh weight at harvest (g),mark',
    );
    expect(lines[1]).toBe('1A-A1,1,1A,1,1,tray 1A,high,bark,P1,2.25,30.5,');
    expect(lines[2]).toBe('1A-A2,1,1A,1,2,tray 1A,high,clay,P2,,,dead');
    expect(lines).toHaveLength(14);
  });

  it.each([
    [',', '.'],
    [';', ','],
    ['\t', '.'],
  ] as const)('comes in again as it went out (%j, %j)', (separator, decimal) => {
    const text = recordsCsv(filled, { separator, decimal });
    const preview = matchTable(plan, table(text));
    expect(preview.problem).toBeNull();
    expect(preview.rows).toEqual([]);
    const back = run(plan, importValues, toValues(preview, false));
    expect(back.records.values).toEqual(filled.records.values);
    expect(Object.keys(back.records.marks)).toEqual(['t1:1:2']);
  });

  it('disarms text that a spreadsheet would run', () => {
    const layout = filled.layout && {
      ...filled.layout,
      assignments: filled.layout.assignments.map((a) => ({ ...a, plant: '=HYPERLINK("x")' })),
    };
    expect(recordsCsv({ ...filled, layout })).toContain(`"'=HYPERLINK(""x"")"`);
  });
});
