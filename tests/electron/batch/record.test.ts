import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { recordVerb } from '../../../electron/batch/verbs/record';
import { runBatch } from '../../../electron/batch/run';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { drawnPlan } from '../../builders/samplePlan';
import { tempFolder } from '../tempFolder';

/** The verb on the sample and a table: exit code, what was said, and the new plan's values. */
async function recorded(table: string | URL, ...options: string[]) {
  const folder = await tempFolder();
  const [plan, out] = [join(folder, 'plan.json'), join(folder, 'new.json')];
  await writeFile(plan, writePlan(drawnPlan()));
  const text = typeof table === 'string' ? table : null;
  const file = text === null ? fileURLToPath(table) : join(folder, 'table.csv');
  if (text !== null) await writeFile(file, text);
  let [said, err] = ['', ''];
  const words = ['record', plan, '--table', file, '--out', out, ...options];
  const code = await runBatch(words, [recordVerb], {
    out: (part) => void (said += part),
    err: (part) => void (err += part),
  });
  const written = (await readdir(folder)).includes('new.json');
  const read = written ? readPlan(await readFile(out, 'utf8')) : null;
  return {
    code,
    err: err.replace(file, 'TABLE'),
    written,
    report: said === '' ? null : (JSON.parse(said) as Record<string, unknown>),
    values: read?.ok ? read.plan.records.values : null,
    heads: read?.ok ? read.plan.tableHeads : undefined,
    delivered: read?.ok ? read.plan.records.delivered : undefined,
  };
}

describe('record', () => {
  it('writes the plan with the values in, and tells what became of each cell', async () => {
    const table =
      'Harvest 2026\nTopf;FW (kg);Bemerkung\n1A-A1;0,0125;pale\n1A-A2;heavy;\n9Z-A1;0,02;\n';
    const { code, err, values, report, heads } = await recorded(
      table,
      ...['--columns', '{"FW": "Fresh weight at harvest"}'],
    );
    expect({ code, err, values, heads }).toEqual({
      code: 0,
      err: '',
      values: { m2: { 't1:1:1': 12.5 } },
      heads: { fw: 'm2' },
    });
    expect(report).toMatchObject({
      form: 'wide',
      decimal: ',',
      headerLines: [2],
      asked: [],
      titles: [{ line: 1, text: 'Harvest 2026' }],
      taken: [
        { cell: 'B3', pot: '1A-A1', found: '0,0125', value: 12.5 },
        { cell: 'C3', pot: '1A-A1', note: 'pale' },
      ],
      leftOut: [
        { cell: 'B4', pot: '1A-A2', found: 'heavy', why: 'a number is expected' },
        { line: 5, pot: '9Z-A1', why: 'no pot of this trial has this code' },
        { cell: 'B5', pot: '9Z-A1', found: '0,02', why: 'no pot for this line' },
      ],
    });
  });

  it('writes nothing where a person has to be asked, unless doubts are accepted', async () => {
    const table = 'Pot,harvest,Brix\n1A-A1,12.5,9.1\n';
    expect(await recorded(table)).toMatchObject({
      code: 2,
      written: false,
      report: null,
      err: 'TABLE, column Brix: holds 1 number, and its head names no measurement of the plan; its measurement, or “not used”, is expected\n',
    });
    expect(await recorded(table, '--accept-doubtful')).toMatchObject({
      code: 0,
      values: { m2: { 't1:1:1': 12.5 } },
      report: { asked: [{ about: 'column Brix' }] },
    });
    expect(await recorded(table, '--columns', '{"Brix": "not used"}')).toMatchObject({ code: 0 });
  });

  it('takes the sheet with values of the plan; of several it asks', async () => {
    const book = new URL('../../tables/workbooks/harvest.xlsx', import.meta.url);
    expect((await recorded(book)).err).toMatch(
      /^TABLE: the sheets Harvest and Fresh weight at harvest hold values of the plan; --sheet/,
    );
    expect(await recorded(book, '--sheet', 'Fresh weight at harvest')).toMatchObject({
      code: 0,
      report: { form: 'matrix', sheet: 'Fresh weight at harvest' },
      values: { m2: { 't1:1:1': 3.1, 't1:1:3': 3.3, 't1:2:1': 4.1 } },
    });
    expect((await recorded(book, '--sheet', 'Ernte')).err).toMatch(
      /^--sheet: found Ernte; expected/,
    );
    const ods = new URL('../../tables/workbooks/ernte.ods', import.meta.url);
    // The sample's measurements have no dates of their own, and two share the name.
    expect((await recorded(ods)).err).toMatch(/^TABLE: nothing can be taken over: line 3, several/);
    const head = ['--columns', '{"Fresh weight": "Fresh weight at harvest"}'];
    expect(await recorded(ods, ...head)).toMatchObject({
      values: { m2: { 't1:1:1': 12.5, 't1:1:2': 13.25 } },
    });
  });

  it.each([
    [['--columns', '[1]'], /^--columns: found .*; expected/],
    [['--header', 'two'], /^--header: found two; expected the number of a line/],
    [['--dates', 'iso'], /^--dates: found iso; expected day-first or month-first/],
    [['--columns', '{"FW": "start"}'], /^TABLE, column FW: /],
  ])('refuses %j', async (options, expected) => {
    const { code, err, written } = await recorded('Pot,harvest\n1A-A1,12.5\n', ...options);
    expect({ code, written }).toEqual({ code: 2, written: false });
    expect(err).toMatch(expected);
  });

  it('refuses a table that holds nothing, and a picture', async () => {
    expect((await recorded('')).err).toMatch(/^TABLE: The table is empty; a table in CSV/);
    const png = '\u0089PNG\r\n\u001a\n\u0000\u0000';
    expect((await recorded(png)).err).toMatch(/^TABLE: Line \d: this is a picture/);
  });
});

describe('record --delivered', () => {
  const table =
    'Date;Probe;Temp (°F)\n05.03.2026 08:00;P1;68\n05.03.2026 20:00;P1;70\n05.03.2026 08:00;P2;68\n';

  it('asks which units a logger means, and logs a figure a day of those that are said', async () => {
    const open = await recorded(table, '--delivered');
    expect(open).toMatchObject({ code: 2, written: false });
    expect(open.err).toMatch(
      /^TABLE, unit P1: 2 figures of it \(1 more to be asked\); a reservoir/,
    );
    const units = ['--units', '{"P1": "tray 1A", "P2": "not used"}'];
    const { code, err, report, delivered } = await recorded(table, '--delivered', ...units);
    expect({ code, err, delivered }).toEqual({
      code: 0,
      err: '',
      delivered: { t1: { '2026-03-05': { temperature: 20.6 } } },
    });
    expect(report).toMatchObject({
      logged: [{ unit: 'tray 1A', day: '2026-03-05', readings: 2, lowest: 20 }],
      leftOut: [{ line: 4, cell: 'C4', found: '68', why: 'P2: not used' }],
      asked: [],
      readings: 2,
    });
  });

  it.each([
    [['--delivered', '--units', '{"P1": "tank"}'], /^--units: found tank; expected one of shelf 1/],
    [['--units', '{}'], /^--units: found without --delivered/],
    [['--delivered', '--columns', '{"Temp (°F)": "Brix"}'], /^TABLE, column Temp \(°F\): what it/],
  ])('refuses %j', async (options, expected) => {
    const { code, err } = await recorded(table, ...options);
    expect(code).toBe(2);
    expect(err).toMatch(expected);
  });
});
