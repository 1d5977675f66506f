import { mkdir, readdir, readFile, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { fitVerb } from '../../../electron/batch/verbs/fit';
import { tempFolder } from '../tempFolder';

const request = { response: 'weight', treatments: ['feed'], means: [['feed']] };
const table = (...weights: readonly (number | string)[]): string =>
  ['feed,weight', ...weights.map((w, i) => `${i % 2 ? 'weak' : 'strong'},${w}`)].join('\n');

async function fitVerbOn(...words: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await runBatch(['fit', ...words], [fitVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err };
}

async function setUp(tables: Record<string, string>) {
  const folder = await tempFolder();
  const [asked, dir, out] = ['request.json', 'tables', 'all.ndjson'].map((name) =>
    join(folder, name),
  ) as [string, string, string];
  await writeFile(asked, JSON.stringify(request));
  await mkdir(dir);
  for (const [name, text] of Object.entries(tables)) await writeFile(join(dir, name), text);
  return { folder, asked, dir, out };
}

const good = table(3, 1, 4, 1.5, 5, 2);

test('each table of a folder gives, in name order, the line that a fit of it alone gives', async () => {
  const { asked, dir, out } = await setUp({
    'b10.csv': good,
    'b9.csv': table(9, 2, 6, 5, 3, 5),
    'a.csv': table(2, 7, 1, 8, 2, 8),
    'notes.txt': 'no table',
    'old.csv.bak': 'no table',
  });
  expect(await fitVerbOn(asked, '--tables', dir, '--out', out)).toEqual({
    code: 0,
    out: '',
    err: '',
  });
  const text = await readFile(out, 'utf8');
  expect(text.endsWith('}\n')).toBe(true);
  const lines = text.trimEnd().split('\n');
  const names = ['a.csv', 'b10.csv', 'b9.csv'];
  expect(lines).toHaveLength(names.length);
  for (const [i, name] of names.entries()) {
    const alone = await fitVerbOn(asked, '--table', join(dir, name));
    expect(JSON.parse(lines[i] ?? '')).toEqual({ table: name, ...JSON.parse(alone.out) });
  }
});

test('a table that fails gives a line that says why, the rest goes on, and the exit code is 1', async () => {
  const { asked, dir, out } = await setUp({
    '1.csv': good,
    '2.csv': 'feed,weight\nweak,heavy\nstrong,2',
    '3.csv': '',
    '4.csv': 'feed,mass\nweak,1',
    '6.csv': good,
  });
  await mkdir(join(dir, '5.csv'));
  const { code, err } = await fitVerbOn(asked, '--tables', dir, '--out', out);
  expect({ code, err }).toEqual({ code: 1, err: '' });
  const lines = (await readFile(out, 'utf8'))
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as { table: string; n?: number; error?: string });
  expect(lines.map((line) => [line.table, line.n])).toEqual([
    ['1.csv', 6],
    ['2.csv', undefined],
    ['3.csv', undefined],
    ['4.csv', undefined],
    ['5.csv', undefined],
    ['6.csv', 6],
  ]);
  expect(lines[1]).toEqual({ table: '2.csv', error: expect.stringContaining('heavy') as string });
  expect(lines[2]?.error).toContain('is empty');
  expect(lines[3]?.error).toContain('weight');
  expect(lines[4]?.error).toContain('folder');
});

test('nothing is written over the request or a table of the folder, by whatever name', async () => {
  const { folder, asked, dir } = await setUp({ '1.csv': good });
  const link = join(folder, 'link.ndjson');
  await symlink(join(dir, '1.csv'), link);
  for (const out of [asked, join(dir, '1.csv'), link]) {
    const { code, err } = await fitVerbOn(asked, '--tables', dir, '--out', out);
    expect(code).toBe(2);
    expect(err).toContain('inputs are never overwritten');
  }
  expect(await readFile(join(dir, '1.csv'), 'utf8')).toBe(good);
  // Beside the tables it may lie.
  expect((await fitVerbOn(asked, '--tables', dir, '--out', join(dir, 'all.ndjson'))).code).toBe(0);
});

test.each([
  [['--tables', 'DIR'], '--out: not given; FILE for the results is expected with --tables'],
  [['--out', 'OUT'], '--table: not given; --table DATA.csv or --tables DIR is expected'],
  [['--tables', 'DIR', '--table', 'DIR/1.csv', '--out', 'OUT'], '--tables: given beside --table'],
  [['--tables', 'EMPTY', '--out', 'OUT'], 'found no *.csv in it; at least one is expected'],
  [
    ['--tables', 'DIR/none', '--out', 'OUT'],
    'there is no such file or folder; a folder is expected',
  ],
  [['--tables', 'DIR/1.csv', '--out', 'OUT'], 'a folder is expected'],
])('%j is refused with exit code 2 and writes nothing', async (words, says) => {
  const { folder, asked, dir, out } = await setUp({ '1.csv': good });
  const empty = join(folder, 'empty');
  await mkdir(empty);
  const before = await readdir(folder);
  const given = words.map((word) =>
    word.replace('DIR', dir).replace('EMPTY', empty).replace('OUT', out),
  );
  const { code, err } = await fitVerbOn(asked, ...given);
  expect(code).toBe(2);
  expect(err).toContain(says);
  expect(await readdir(folder)).toEqual(before);
});
