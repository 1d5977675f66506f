import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  leftOutOf,
  matchSheet,
  type CellReport,
  type Said,
} from '../../../renderer/document/records';
import { isBlank, readWorkbook, sheetOfText, type TableSheet } from '../../../renderer/tables';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

/** The sample, weighed at the start on 2 March and at harvest on 5 April. */
function datedPlan(): Plan {
  const plan = drawnPlan();
  if (!plan.trial) throw new Error('the sample has a trial');
  const dates: Record<string, string> = { m1: '2026-03-02', m2: '2026-04-05' };
  const measurements = plan.trial.measurements.map((m) => ({ ...m, date: dates[m.id] ?? null }));
  return { ...plan, trial: { ...plan.trial, measurements } };
}

const workbook = (name: string) => new URL(`../../tables/workbooks/${name}`, import.meta.url);

interface Shape {
  what: string;
  /** The text of the table, or a workbook that another program made. */
  table: string | URL;
  said?: Said;
  plan?: Plan;
  /** What becomes of each cell that a pot, or a column of the plan, is concerned by. */
  cells: string[];
  /** Lines that are of no pot, with the reason. */
  lines?: string[];
  /** What only a person can say. */
  asked?: RegExp[];
}

const SHAPES: readonly Shape[] = [
  {
    what: 'a line a pot, unit in the head',
    table: 'Pot,Fresh weight at harvest (g)\n1A-A1,12.5\n1A-A2,NA\n',
    cells: ['1A-A1 m2 12.5', '1A-A2 blank'],
  },
  {
    what: 'decimal comma and thousands by point',
    table: 'Pot;harvest\n1A-A1;12,5\n1A-A2;1.013,5\n1A-A3;twelve\n',
    cells: ['1A-A1 m2 12.5', '1A-A2 m2 1013.5', '1A-A3 not-a-number'],
  },
  {
    what: 'workbook with titles, merged heads and shared cells',
    table: workbook('harvest.xlsx'),
    cells: [
      ...['1A-A1 m1 2.1', '1A-A1 m2 12.5', '1A-A2 m1 2.2', '1A-A2 m2 13.25', '1A-A3 m1 2.3'],
      ...['1A-A3 merged', '1A-B1 blank', '1A-B1 merged', 'Mean no-pot', 'Mean blank'],
    ],
    lines: ['Mean no pot of this trial has this code'],
  },
  {
    what: 'OpenDocument with German heads',
    table: workbook('ernte.ods'),
    said: { heads: { 'Fresh weight': 'Fresh weight at harvest' } },
    cells: ['1A-A1 m2 12.5', '1A-A2 m2 13.25'],
  },
  {
    what: 'title lines, and a header of two lines',
    table:
      'Trial of bark and clay\nweighed by KM,,\nPot,Fresh weight,\n,start,harvest\n1A-A1,2.1,12.5\n',
    cells: ['1A-A1 m1 2.1', '1A-A1 m2 12.5'],
  },
  {
    what: 'units in the cells, ounces and kilograms among them',
    table: 'Pot;harvest\n1A-A1;25,0 g\n1A-A2;0,025 kg\n1A-A3;1 oz\n1A-B1;3 mm\n',
    cells: ['1A-A1 m2 25', '1A-A2 m2 25', '1A-A3 m2 28.349523125', '1A-B1 other-unit'],
  },
  {
    what: 'codes padded, spaced and in small letters',
    table: 'Pot,harvest\n01A-A01,1\n1a a 02,2\n1A/A3,3\n',
    cells: ['1A-A1 m2 1', '1A-A2 m2 2', '1A-A3 m2 3'],
  },
  {
    what: 'pots by shelf, tray, row and column, in German',
    table: 'Etage;Schale;Reihe;Spalte;harvest\n2;A;B;3;7\n1;A;1;2;8\n1;A;C;1;9\n',
    cells: ['2A-B3 m2 7', '1A-A2 m2 8', '1A-C1 no-pot'],
    lines: ['1A-C1 no pot of this trial has this code'],
  },
  {
    what: 'each tray as it stands, with letters and numbers',
    table:
      'Fresh weight at harvest (kg)\nTray 1A\n,1,2,3\nB,0.004,0.0042,\nA,0.003,dead,x1\nSum,7,4\n',
    cells: [
      ...['1A-B1 m2 4', '1A-B2 m2 4.2', '1A-B3 blank', '1A-A1 m2 3', '1A-A2 mark'],
      '1A-A3 not-a-number',
    ],
    lines: ['7 no pot code'],
  },
  {
    what: 'each tray as it stands, bare, one with an empty column',
    table: 'Fresh weight at harvest\nTray 2A\n1,2,3\n4,5,6\n\nTray 1A\n,4,5\n,6,7\n',
    cells: [
      ...['2A-B1 m2 1', '2A-B2 m2 2', '2A-B3 m2 3', '2A-A1 m2 4', '2A-A2 m2 5', '2A-A3 m2 6'],
      ...['1A-B1 blank', '1A-B2 m2 4', '1A-B3 m2 5', '1A-A1 blank', '1A-A2 m2 6', '1A-A3 m2 7'],
    ],
  },
  {
    what: 'a line a pot and day, day first',
    table:
      'Datum;Topf;Fresh weight\n02.03.2026;1A-A1;2,1\n05.04.2026;1A-A1;12,5\n05.04.2026;1A-A2;13,5\n',
    plan: datedPlan(),
    cells: ['1A-A1 m1 2.1', '1A-A1 m2 12.5', '1A-A2 m2 13.5'],
  },
  {
    what: 'days that may be read with the month first',
    table: 'Date,Pot,harvest\n6/7/2026,1A-A1,12\n',
    plan: datedPlan(),
    cells: ['1A-A1 not-a-date', '1A-A1 m2 12'],
    asked: [/^column Date: its days, such as 6\/7\/2026, can be read/],
  },
  {
    what: 'marks and notes beside the values',
    table: 'Topf;harvest;Status;Bemerkung\n1A-A1;12,5;;pale\n1A-A2;;dead;\n1A-A3;13;sleepy;\n',
    cells: [
      ...['1A-A1 m2 12.5', '1A-A1 blank', '1A-A1 note', '1A-A2 blank', '1A-A2 mark', '1A-A2 blank'],
      ...['1A-A3 m2 13', '1A-A3 not-a-mark', '1A-A3 blank'],
    ],
  },
  {
    what: 'sum below, header again, pots that are not there',
    table: 'Pot,harvest\n1A-A1,12.5\nPot,harvest\n9Z-A1,14\nTotal,26.5\n',
    cells: ['1A-A1 m2 12.5', '9Z-A1 no-pot', 'Total no-pot'],
    lines: ['9Z-A1 no pot of this trial has this code', 'Total no pot of this trial has this code'],
  },
  {
    what: 'a pot twice, heads of one’s own',
    table: 'Topf;FW (g);Brix\n1A-A1;12,5;9,1\n1A-A1;13,5;9,2\n1A-A2;14;9,3\n',
    said: { heads: { FW: 'Fresh weight at harvest' } },
    cells: ['1A-A1 no-pot', '1A-A1 no-pot', '1A-A2 m2 14'],
    lines: [
      '1A-A1 this code stands in the table more than once',
      '1A-A1 this code stands in the table more than once',
    ],
    asked: [/^column Brix: holds 3 numbers, and its head names no measurement/],
  },
];

async function sheetOf(table: string | URL): Promise<TableSheet | undefined> {
  const read =
    typeof table === 'string'
      ? sheetOfText(table)
      : await readWorkbook(new Uint8Array(readFileSync(table)));
  return read.ok ? read.sheets[0] : undefined;
}

function fate({ code, outcome }: CellReport): string {
  return outcome.kind === 'value' || outcome.kind === 'out-of-range'
    ? `${code} ${outcome.measurementId} ${outcome.value}`
    : `${code} ${outcome.kind}`;
}

describe('fifteen shapes of growers’ tables', () => {
  it.each(SHAPES)('$what', async ({ table, said = {}, plan = drawnPlan(), ...expected }) => {
    const sheet = await sheetOf(table);
    const found = sheet && matchSheet(plan, sheet, said);
    if (!sheet || !found) throw new Error('a table with lines is expected');
    const { preview, questions, shape } = found;
    expect(preview.cells.map(fate)).toEqual(expected.cells);
    const lines = leftOutOf({ ...preview, cells: [] });
    expect(lines.map(({ code, why }) => `${code} ${why}`)).toEqual(expected.lines ?? []);
    const asked = questions.map(({ about, found: what }) => `${about}: ${what}`);
    expect(asked).toHaveLength(expected.asked?.length ?? 0);
    for (const [i, one] of (expected.asked ?? []).entries()) expect(asked[i]).toMatch(one);
    // Each cell with something in it is reported, or is of a column that is told as something else.
    const told = new Set(preview.cells.map(({ line, column }) => `${line} ${column}`));
    const beside = new Set(
      preview.columns.flatMap(({ use }, i) => (use.use === 'measurement' ? [] : [i])),
    );
    const heads = new Set([...(shape?.headLines ?? []), ...(shape?.repeated ?? [])]);
    for (const { line, cells } of shape?.table.rows ?? []) {
      if (heads.has(line)) continue;
      cells.forEach((text, column) => {
        if (isBlank(text) || beside.has(column)) return;
        expect([text, told.has(`${line} ${column}`)]).toEqual([text, true]);
      });
    }
  });
});
