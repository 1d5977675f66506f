import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { readCsvRows, readJson, readPlanFile } from '../../../electron/batch/inputs';
import { fitRequestSchema } from '../../../shared-types/fit';
import { powerRequestSchema } from '../../../shared-types/power';
import { tempFolder } from '../tempFolder';

async function file(text: string | Uint8Array): Promise<string> {
  const path = join(await tempFolder(), 'input');
  await writeFile(path, text);
  return path;
}

const failure = (promise: Promise<unknown>): Promise<string> =>
  promise.then(
    () => 'no failure',
    (error: unknown) => (error instanceof Error ? error.message : String(error)),
  );

test.each([
  ['{"response":"w","scale":"cube"}', ', scale: found "cube"; expected one of "identity", '],
  [
    '{"response":"w","interactions":"some"}',
    ', interactions: found "some"; expected one of "all", "none" or a list',
  ],
  [
    '{"response":"w","compare":[{"means":[3],"method":"tukey"}]}',
    ', compare[0].means[0]: found 3; expected text',
  ],
  [
    '{"response":"w","respnse":"x"}',
    ': found the unknown name "respnse"; expected only names that the format knows',
  ],
  ['{"scale":"log"}', ', response: found nothing; expected text'],
  ['[]', ': found an empty list; expected a group of values'],
  ['{"response":\n  "w" "x"}', ', line 2, column 7: found "\\""; expected a comma or }'],
  ['', ', line 1, column 1: found the end of the file; expected a value'],
])('a fit request %s is refused with place, found and expected', async (text, says) => {
  const path = await file(text);
  const message = await failure(readJson(path, fitRequestSchema, 'a fit request'));
  expect(message.startsWith(`${path}${says}`)).toBe(true);
});

test('a rule between several values keeps the form of the message', async () => {
  const path = await file('{"treatments":{"a":2},"effect":{"f":0.2,"of":"a"}}');
  expect(await failure(readJson(path, powerRequestSchema, 'a power request'))).toBe(
    `${path}, unitsPerCell: missing; expected with solve power`,
  );
  const neither = await file('{"treatments":{"a":2},"unitsPerCell":3}');
  expect(await failure(readJson(neither, powerRequestSchema, 'a power request'))).toBe(
    `${neither}, means: found nothing; expected either means or effect, one of them`,
  );
});

test('files that are missing, folders, or not text are named with the reason', async () => {
  const folder = await tempFolder();
  const none = join(folder, 'none.json');
  expect(await failure(readJson(none, z.unknown(), 'a request'))).toBe(
    `${none}: cannot be read, there is no such file or folder; a request is expected`,
  );
  expect(await failure(readJson(folder, z.unknown(), 'a request'))).toBe(
    `${folder}: cannot be read, it is a folder, not a file; a request is expected`,
  );
  const binary = await file(new Uint8Array([0xff, 0xfe, 0x00]));
  expect(await failure(readJson(binary, z.unknown(), 'a request'))).toBe(
    `${binary}: is not text in UTF-8; a request is expected`,
  );
});

test('a byte order mark in front is no part of the text', async () => {
  expect(await readJson(await file('\uFEFF{"a":1}'), z.unknown(), 'a request')).toEqual({ a: 1 });
  expect(await readCsvRows(await file('\uFEFFa,b\n1,2'))).toEqual([
    ['a', 'b'],
    ['1', '2'],
  ]);
});

test.each([
  [
    'a,b\r\n"x, ""y""",2\r\n\r\n',
    [
      ['a', 'b'],
      ['x, "y"', '2'],
    ],
  ],
  [
    'a;b\n1,5;2',
    [
      ['a', 'b'],
      ['1,5', '2'],
    ],
  ],
  ['a\n1\n2\n', [['a'], ['1'], ['2']]],
])('reads the table %j', async (text, rows) => {
  expect(await readCsvRows(await file(text))).toEqual(rows);
});

test('an empty or broken table is refused', async () => {
  const empty = await file('\n \n');
  expect(await failure(readCsvRows(empty))).toBe(
    `${empty}: is empty; a table in CSV with a header line is expected`,
  );
  const open = await file('a,b\n"1,2\n');
  expect(await failure(readCsvRows(open))).toMatch(
    /, line 2: a quote is opened .*; a table in CSV/,
  );
});

test.each([
  ['{"format":"evenrack-plan","version":1}', /input, title: found nothing; expected text$/],
  [
    '{"format":"something"}',
    /input: The file is not an Evenrack plan: .*; a plan file is expected$/,
  ],
  ['{"format":', /input, line 1, column 11: found the end of the file; expected a value$/],
  ['', /input: The file is empty; .*; a plan file is expected$/],
])('a plan file %j is refused', async (text, says) => {
  expect(await failure(readPlanFile(await file(text)))).toMatch(says);
});
