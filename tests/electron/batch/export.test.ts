import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { exportVerb } from '../../../electron/batch/verbs/export';
import { writePlan } from '../../../renderer/document/open';
import { parseDelimited } from '../../../renderer/tables';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';
import { tempFolder } from '../tempFolder';

async function exported(plan: Plan) {
  const folder = await tempFolder();
  const [path, out] = [join(folder, 'plan.evenrack'), join(folder, 'all')];
  await writeFile(path, writePlan(plan));
  let err = '';
  const code = await runBatch(['export', path, '--out', out], [exportVerb], {
    out: () => undefined,
    err: (text) => void (err += text),
  });
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const cellsOf = async (name: string): Promise<string[][]> => {
    const parsed = parseDelimited(await readFile(join(out, name), 'utf8'));
    return parsed.ok ? parsed.lines.map(({ cells }) => cells) : [];
  };
  return { out, names: (await readdir(out)).sort(), cellsOf };
}

test('all that a plan holds leaves in open formats', async () => {
  const plan = drawnPlan();
  const [shelf] = plan.rack.shelves;
  const [tray] = shelf?.trays ?? [];
  if (!shelf || !tray) throw new Error('the sample has a tray');
  const jpeg = Buffer.from([0xff, 0xd8, 0xff, 0xd9]);
  const photo = `data:image/jpeg;base64,${jpeg.toString('base64')}`;
  const about = [`tray:${tray.id}`];
  const { out, names, cellsOf } = await exported({
    ...plan,
    records: {
      ...plan.records,
      incidents: [{ id: 'i1', date: '2026-03-05', text: '=2+3, dry', about, photo }],
      delivered: { [tray.id]: { '2026-03-05': { ec: 1.25 }, '2026-03-04': { ph: 6 } } },
    },
  });
  expect(names).toEqual(expect.arrayContaining(['plan.json', 'records.csv', 'columns.csv']));
  const trayName = `tray ${shelf.number}${tray.letter}`;
  const [, incident] = await cellsOf('incidents.csv');
  expect(incident?.slice(1)).toEqual(['2026-03-05', trayName, '=2+3, dry', 'incident-i1.jpg']);
  // A program that computes what begins with a sign of equality is given none.
  expect(await readFile(join(out, 'incidents.csv'), 'utf8')).not.toMatch(/[,"]=2/);
  expect((await readFile(join(out, 'incident-i1.jpg'))).equals(jpeg)).toBe(true);
  expect((await cellsOf('delivered.csv')).map((cells) => cells.slice(1))).toEqual([
    [
      'unit',
      'date',
      'EC (mS/cm)',
      'pH',
      'temperature (°C)',
      'lamp hours (h)',
      'PPFD (µmol m⁻² s⁻¹)',
    ],
    [trayName, '2026-03-04', '', '6', '', '', ''],
    [trayName, '2026-03-05', '1.25', '', '', '', ''],
  ]);
  const readings = plan.light.readings.length;
  expect(names.includes('readings.csv')).toBe(readings > 0);
  if (readings > 0) expect(await cellsOf('readings.csv')).toHaveLength(readings + 1);
});

test('what a plan does not hold makes no file', async () => {
  const plan = drawnPlan();
  const bare = { ...plan, light: { ...plan.light, readings: [] } };
  const { names } = await exported({ ...bare, records: { ...plan.records, incidents: [] } });
  expect(names).toEqual(expect.arrayContaining(['plan.json']));
  expect(names).not.toContain('readings.csv');
  expect(names).not.toContain('incidents.csv');
  expect(names).not.toContain('delivered.csv');
});
