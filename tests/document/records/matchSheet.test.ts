import { describe, expect, it } from 'vitest';
import { readFileSync } from 'node:fs';
import { importValues } from '../../../renderer/document/commands';
import { keptHeads, matchSheet, toValues, type Said } from '../../../renderer/document/records';
import { readWorkbook, sheetOfText } from '../../../renderer/tables';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';

function matched(text: string, said: Said = {}, plan = drawnPlan()) {
  const read = sheetOfText(text);
  const sheet = read.ok ? read.sheets[0] : undefined;
  const found = sheet && matchSheet(plan, sheet, said);
  if (!found) throw new Error('a table with lines is expected');
  const { preview, questions } = found;
  const outcomes = preview.cells.map(({ code, outcome }) =>
    outcome.kind === 'value' || outcome.kind === 'out-of-range'
      ? `${code} ${outcome.measurementId} ${outcome.value}${outcome.day ? ` on ${outcome.day}` : ''}`
      : `${code} ${outcome.kind}`,
  );
  return {
    ...found,
    outcomes,
    asked: questions.map(({ about, found: what }) => `${about}: ${what}`),
  };
}

const said = (text: string, ...of: [Said?, Plan?]) => matched(text, ...of).outcomes;

/** The sample with measurements on two days. */
function datedPlan(): Plan {
  const plan = drawnPlan();
  if (!plan.trial) throw new Error('the sample has a trial');
  const dates: Record<string, string> = { m1: '2026-03-02', m2: '2026-04-05' };
  const measurements = plan.trial.measurements.map((m) => ({ ...m, date: dates[m.id] ?? null }));
  return { ...plan, trial: { ...plan.trial, measurements } };
}

describe('a table as growers keep it', () => {
  it('may have titles above its header, and the header again further down', () => {
    const found = matched(
      'Trial of bark and clay\nweighed by KM;;\n\nPot;Fresh weight at harvest\n1A-A1;12,5\nPot;Fresh weight at harvest\n1A-A2;13,5\n',
    );
    expect(found.outcomes).toEqual(['1A-A1 m2 12.5', '1A-A2 m2 13.5']);
    expect(found.shape).toMatchObject({ headLines: [4], repeated: [6] });
    expect(found.shape?.titles.map(({ line }) => line)).toEqual([1, 2]);
  });

  it('may have a header of two lines, of times or of units', () => {
    const times = 'Pot,Fresh weight,\n,start,harvest\n1A-A1,2.1,12.5\n';
    expect(said(times)).toEqual(['1A-A1 m1 2.1', '1A-A1 m2 12.5']);
    const units = 'Pot,Fresh weight at harvest\n,kg\n1A-A1,0.0125\n';
    expect(said(units)).toEqual(['1A-A1 m2 12.5']);
    // A line of values is no second line of the header.
    expect(said('Pot,harvest\n1A-A1,12.5\n')).toEqual(['1A-A1 m2 12.5']);
  });

  it('has units in heads and in cells, each converted; one of another kind is left out', () => {
    for (const head of [
      'harvest (kg)',
      'harvest [kg]',
      'harvest in kg',
      'harvest, kg',
      'harvest kg',
    ]) {
      expect([head, ...said(`Pot\t${head}\n1A-A1\t0.0125\n`)]).toEqual([head, '1A-A1 m2 12.5']);
    }
    const cells = 'Pot;harvest\n1A-A1;25,0 g\n1A-A2;0,025 kg\n1A-A3;1 oz\n1A-B1;3 mm\n';
    // The avoirdupois ounce of 1959: 28.349523125 g.
    expect(said(cells)).toEqual([
      ...['1A-A1 m2 25', '1A-A2 m2 25', '1A-A3 m2 28.349523125', '1A-B1 other-unit'],
    ]);
    // The unit of a cell goes before that of the head.
    expect(said('Pot\tharvest (kg)\n1A-A1\t25 g\n')).toEqual(['1A-A1 m2 25']);
  });

  it('has its decimal mark column by column', () => {
    const text = 'Pot;start;harvest\n1A-A1;1.25;12,5\n1A-A2;2.5;1.013,5\n';
    expect(said(text)).toEqual([
      '1A-A1 m1 1.25',
      '1A-A1 m2 12.5',
      '1A-A2 m1 2.5',
      '1A-A2 m2 1013.5',
    ]);
  });

  it('pads and spaces its codes', () => {
    const text = 'Pot,harvest\n01A-A01,1\n1a a 02,2\n1A/A3,3\n1A-A10,4\n';
    expect(said(text)).toEqual(['1A-A1 m2 1', '1A-A2 m2 2', '1A-A3 m2 3', '1A-A10 no-pot']);
  });

  it('tells its pots by shelf, tray, row and column, or by the plant', () => {
    expect(said('shelf,tray,row,column,harvest\n2,A,B,3,7\n1,A,1,2,8\n')).toEqual([
      ...['2A-B3 m2 7', '1A-A2 m2 8'],
    ]);
    expect(said('Schale,Reihe,Spalte,harvest\nTray 2A,2,1,7\n')).toEqual(['2A-B1 m2 7']);
    // A shelf that the tray's own code denies, and a place that is none.
    expect(said('shelf,tray,row,column,harvest\n1,2A,A,1,7\n1,A,C,1,8\n')).toEqual([
      ...['1 2A A 1 no-pot', '1A-C1 no-pot'],
    ]);
    expect(said('plant,harvest\nP2,7\n')).toEqual(['1A-A2 m2 7']);
  });

  it('has a line for every pot and day, in the usual forms of days', () => {
    const text = (days: readonly [string, string]) =>
      `Date;Pot;Fresh weight\n${days[0]};1A-A1;2,1\n${days[1]};1A-A1;12,5\n${days[1]};1A-A2;13,5\n`;
    const expected = ['1A-A1 m1 2.1', '1A-A1 m2 12.5', '1A-A2 m2 13.5'];
    for (const days of [
      ['02.03.2026', '05.04.2026'],
      ['3/2/2026', '4/5/2026'],
      ['2 March 2026', '2026-04-05 10:30'],
    ] as const) {
      expect(said(text(days), {}, datedPlan())).toEqual(expected);
    }
    // A day beside that of the measurement stays with the value; one far off is of no measurement.
    expect(said(text(['03.03.2026', '20.03.2026']), {}, datedPlan())).toEqual([
      ...['1A-A1 m1 2.1 on 2026-03-03', '1A-A1 several-measurements', '1A-A2 several-measurements'],
    ]);
    const twice = 'Date;Pot;Fresh weight\n05.04.2026;1A-A1;12\n06.04.2026;1A-A1;13\n';
    expect(said(twice, {}, datedPlan())).toEqual(['1A-A1 twice', '1A-A1 twice']);
  });

  it('asks about days with two readings, and takes what is said', () => {
    const text = 'Date,Pot,harvest\n6/7/2026,1A-A1,12\n';
    expect(matched(text, {}, datedPlan()).asked).toEqual([
      'column Date: its days, such as 6/7/2026, can be read with the day or the month first',
    ]);
    expect(said(text, { dayOrder: 'month-first' }, datedPlan())).toEqual([
      '1A-A1 m2 12 on 2026-06-07',
    ]);
  });

  it('takes notes behind what is noted already', () => {
    const plan: Plan = {
      ...drawnPlan(),
      records: { ...drawnPlan().records, notes: { 't1:1:1': { text: 'pale', files: ['a.jpg'] } } },
    };
    const { preview } = matched('Topf;harvest;Bemerkung\n1A-A1;12,5;wilted\n', {}, plan);
    expect(toValues(preview, false).notes).toEqual([
      { potId: 't1:1:1', note: { text: 'pale; wilted', files: ['a.jpg'] } },
    ]);
  });

  it('shows each tray as it stands on the rack', () => {
    const text =
      'Fresh weight at harvest (kg)\nTray 1A\n,1,2,3\nB,0.004,0.0042,\nA,0.003,dead,x1\n\nTray 2A,3,2,1\nRow 1,0.0053,0.0052,0.0051\n';
    const found = matched(text);
    expect(found.preview.form).toBe('matrix');
    expect(found.outcomes).toEqual([
      ...['1A-B1 m2 4', '1A-B2 m2 4.2', '1A-B3 blank', '1A-A1 m2 3', '1A-A2 mark'],
      ...['1A-A3 not-a-number', '2A-A3 m2 5.3', '2A-A2 m2 5.2', '2A-A1 m2 5.1'],
    ]);
    // Without a word on what it holds it is asked; a sheet's name may say it.
    const bare = text.split('\n').slice(1).join('\n');
    expect(matched(bare).preview.problem).toBe('Say which measurement tray 1A holds.');
  });
});

describe('a tray without row letters or column numbers', () => {
  const head = 'Fresh weight at harvest\n';
  const values = ['1A-B1 m2 4', '1A-B2 m2 5', '1A-B3 blank', '1A-A1 m2 6', '1A-A2 mark'];
  const full = [...values, '1A-A3 m2 8'];

  it('is taken where it has its lines and columns, the back row on top', () => {
    expect(said(`${head}Tray 1A\n4,5,\n6,dead,8\n`)).toEqual(full);
    // Rows may be lettered alone, and columns numbered alone; trays may stand side by side.
    expect(said(`${head}Tray 1A\nB,4,5,\nA,6,dead,8\n`)).toEqual(full);
    expect(said(`${head}Tray 1A\nA,6,dead,8\nB,4,5,\n`)).toEqual([
      ...full.slice(3),
      ...full.slice(0, 3),
    ]);
    expect(said(`${head}Tray 1A,,\n1,2,3\n4,5,\n6,dead,8\n`)).toEqual(full);
    expect(said(`${head}1A,,,,2A,,\n4,5,,,7,8,9\n6,dead,8,,1,2,3\n`)).toEqual([
      ...full,
      ...['2A-B1 m2 7', '2A-B2 m2 8', '2A-B3 m2 9', '2A-A1 m2 1', '2A-A2 m2 2', '2A-A3 m2 3'],
    ]);
  });

  it('may have empty edges where its letters or whole blocks tell its first column', () => {
    // The third column has no plant left, and neither has the first.
    expect(said(`${head}Tray 1A\nB,4,5,\nA,6,dead,\n`)).toEqual([
      ...values.slice(0, 3),
      ...['1A-A1 m2 6', '1A-A2 mark', '1A-A3 blank'],
    ]);
    const whole = 'Tray 2A\n1,2,3\n4,5,6\n\n';
    const left = ['1A-B1 blank', '1A-B2 m2 4', '1A-B3 m2 5', '1A-A1 blank', '1A-A2 m2 6'];
    expect(said(`${head}${whole}Tray 1A\n,4,5\n,6,7\n`).slice(6)).toEqual([...left, '1A-A3 m2 7']);
    // Whole blocks that stand one cell in: the same cells are then the first two columns.
    const indented = 'Tray 2A\n,1,2,3\n,4,5,6\n\n';
    expect(said(`${head}${indented}Tray 1A\n,4,5\n,6,7\n`).slice(6)).toEqual([
      ...['1A-B1 m2 4', '1A-B2 m2 5', '1A-B3 blank', '1A-A1 m2 6', '1A-A2 m2 7', '1A-A3 blank'],
    ]);
    // By itself it can be read in two ways, and is asked about.
    expect(matched(`${head}Tray 1A\n,4,5\n,6,7\n`).asked[0]).toMatch(/^tray 1A, line 3: holds/);
  });

  it('is asked about where it has not, and nothing of it is taken', () => {
    const found = matched(`${head}Tray 1A\n4,5,6,7\n6,7,8,9\n\nTray 2A\n1,2,3\n4,5,6\n`);
    expect(found.asked).toEqual([
      'tray 1A, line 3: holds 2 lines of 4 values, the tray has 2 rows of 3 pots',
    ]);
    expect(found.outcomes.filter((one) => one.startsWith('1A'))).toEqual([]);
    expect(found.outcomes).toHaveLength(6);
    const alone = matched(`${head}Tray 1A\n4,5\n6,7\n`);
    expect(alone.preview.problem).toBe(
      'Tray 1A holds 2 lines of 2 values, the tray has 2 rows of 3 pots.',
    );
    expect(alone.asked).toHaveLength(1);
  });
});

describe('what only a person can say', () => {
  const text = 'Topf;FW (g);Brix\n1A-A1;12,5;9,1\n1A-A2;13,5;9,2\n';

  it('is asked: a column of numbers is never left out in silence', () => {
    expect(matched(text).asked.map((one) => one.split(':')[0])).toEqual([
      ...['column FW (g)', 'column Brix', 'columns'],
    ]);
    const answered = matched(text, { heads: { fw: 'Fresh weight at harvest', Brix: 'not used' } });
    expect(answered.asked).toEqual([]);
    expect(answered.outcomes).toEqual(['1A-A1 m2 12.5', '1A-A2 m2 13.5']);
    // Of two measurements of one name the person says which, unless one is recorded already.
    const heads = { FW: 'Fresh weight', Brix: 'not used' };
    expect(matched(text, { heads }).preview.problem).toBe(
      'Say which measurement the column FW (g) holds.',
    );
  });

  it('is asked where an assigned head or its measurement is not there', () => {
    expect(matched(text, { heads: { FW: 'Height', Brix: 'nothing' } }).asked[0]).toMatch(
      /^column FW: what it was said to be is no measurement/,
    );
    expect(matched(text, { heads: { Blätter: 'start' } }).asked[0]).toMatch(/^column Blätter/);
  });

  it('is kept for the next table', () => {
    const found = matched(text, { heads: { FW: 'Fresh weight at harvest', Brix: 'not used' } });
    const heads = keptHeads(drawnPlan(), found);
    expect(heads).toEqual({ fw: 'm2', brix: 'nothing' });
    const after = run(drawnPlan(), importValues, { ...toValues(found.preview, false), heads });
    expect(matched('Topf;FW (kg)\n1A-A3;0,014\n', {}, after)).toMatchObject({
      outcomes: ['1A-A3 m2 14'],
      asked: [],
    });
  });

  it('is asked before a recorded value is replaced', () => {
    const plan: Plan = {
      ...drawnPlan(),
      records: { ...drawnPlan().records, values: { m2: { 't1:1:1': 11, 't1:1:2': 13.5 } } },
    };
    const { asked } = matched('Pot;harvest\n1A-A1;12,5\n1A-A2;13,5\n', {}, plan);
    expect(asked).toEqual(['cell B2: 12.5 would replace the 11 that is recorded for 1A-A1']);
  });

  it('takes no value of one pot from cells that several share', async () => {
    // Made by openpyxl: tests/reference/make/32-workbooks.py.
    const file = new URL('../../tables/workbooks/harvest.xlsx', import.meta.url);
    const read = await readWorkbook(new Uint8Array(readFileSync(file)));
    const [sheet] = read.ok ? read.sheets : [];
    const found = sheet && matchSheet(drawnPlan(), sheet);
    expect(
      found?.preview.cells.map(({ code, column, outcome }) => [code, column, outcome.kind]),
    ).toEqual([
      ...[
        ['1A-A1', 1, 'value'],
        ['1A-A1', 2, 'value'],
        ['1A-A2', 1, 'value'],
        ['1A-A2', 2, 'value'],
      ],
      ...[
        ['1A-A3', 1, 'value'],
        ['1A-A3', 2, 'merged'],
        ['1A-B1', 1, 'blank'],
        ['1A-B1', 2, 'merged'],
      ],
      ...[
        ['Mean', 1, 'no-pot'],
        ['Mean', 2, 'blank'],
      ],
    ]);
  });
});

it('takes nothing of a tray that stands in the sheet twice, and the rest of it', () => {
  const block = (value: string) => `Tray 1A,1,2\nA,${value},\n\n`;
  const text = `harvest\n${block('3')}${block('4')}Tray 2A,1,2\nA,5,6\n`;
  expect(said(text)).toEqual([
    ...['1A-A1 twice', '1A-A2 blank', '1A-A1 twice', '1A-A2 blank'],
    ...['2A-A1 m2 5', '2A-A2 m2 6'],
  ]);
});

it('reads a day at the head of a column only where it has one reading', () => {
  const plan = datedPlan();
  expect(said('Pot,Fresh weight,\n,02.03.2026,5 April 2026\n1A-A1,2,12\n', {}, plan)).toEqual([
    ...['1A-A1 m1 2', '1A-A1 m2 12'],
  ]);
  // 2 March or 3 February: nothing is taken for the one or the other.
  expect(matched('Pot,Fresh weight 02/03/2026\n1A-A1,2\n', {}, plan).asked[0]).toMatch(
    /^column Fresh weight 02\/03\/2026: holds 1 number,/,
  );
});

it('tells the lines of a sheet of trays that are of no pot, and shared cells', () => {
  const text = 'harvest\nTray 1A,1,2\nB,3,4,7\nA,5,6,11\nSum,8,10\n';
  const { preview, outcomes } = matched(text);
  expect(outcomes).toEqual(['1A-B1 m2 3', '1A-B2 m2 4', '1A-A1 m2 5', '1A-A2 m2 6']);
  expect(preview.rows.map(({ line, code }) => [line, code])).toEqual([
    ...[[3, '7'] as const, [4, '11'] as const, [5, '8'] as const],
  ]);
  const read = sheetOfText(text);
  const [sheet] = read.ok ? read.sheets : [];
  const lines = sheet?.lines.map((line, i) => (i === 2 ? { ...line, merged: [1, 2] } : line));
  const merged = sheet && lines && matchSheet(drawnPlan(), { ...sheet, lines });
  expect(merged?.preview.cells.slice(0, 2).map(({ outcome }) => outcome.kind)).toEqual([
    ...['merged', 'merged'],
  ]);
});
