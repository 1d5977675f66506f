import { spawnSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { tempFolder } from '../temp-folder';

const root = join(import.meta.dirname, '../../..');

function batch(...words: string[]): { status: number | null; stdout: string; stderr: string } {
  return spawnSync(process.execPath, ['build/batch.mjs', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
}

test('fit from the shell: two groups of three, where F is the square of t', async () => {
  const folder = await tempFolder();
  const [request, table] = [join(folder, 'request.json'), join(folder, 'table.csv')];
  await writeFile(request, JSON.stringify({ response: 'weight', treatments: ['medium'] }));
  // Means 2 and 4, variance 1 within each: t² = 2² / (1 · (1/3 + 1/3)) = 6 on 4 df.
  await writeFile(table, 'medium,weight\nbark,1\nbark,2\nbark,3\nclay,3\nclay,4\nclay,5\n');
  const { status, stdout, stderr } = batch('fit', request, '--table', table);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  const [term] = (JSON.parse(stdout) as { terms: { statistic: number; dfError: number }[] }).terms;
  expect(term?.statistic).toBeCloseTo(6, 10);
  expect(term?.dfError).toBe(4);
});

test('bad input from the shell: exit code 2, one line, no trace', () => {
  const { status, stdout, stderr } = batch('fit', '/nowhere.json', '--table', 'x.csv');
  expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
  expect(stderr).toBe(
    '/nowhere.json: cannot be read, there is no such file or folder; a fit request is expected\n',
  );
});
