import type * as fs from 'node:fs/promises';
import { chmod, mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { writeTogether } from '../../../electron/batch/writeTogether';
import { tempFolder } from '../tempFolder';

/** Names of files whose renaming into place fails. */
const failing = vi.hoisted(() => new Set<string>());
vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof fs>();
  const rename: typeof fs.rename = async (from, to) => {
    if (
      [...failing].some((name) => String(from).includes('/new/') && String(to).endsWith(`/${name}`))
    )
      throw new Error('the disk has gone');
    return real.rename(from, to);
  };
  return { ...real, rename };
});
afterEach(() => failing.clear());

const contents = new Map([
  ['a.html', 'new a'],
  ['b.html', 'new b'],
  ['c.html', 'new c'],
]);

async function texts(folder: string): Promise<string[]> {
  const names = (await readdir(folder)).sort();
  return Promise.all(
    names.map(async (name) => `${name}: ${await readFile(join(folder, name), 'utf8')}`),
  );
}

test('all files are written, old ones replaced with their permissions, others left alone', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'a.html'), 'old a');
  await chmod(join(folder, 'a.html'), 0o640);
  await writeFile(join(folder, 'mine.txt'), 'mine');
  await writeTogether(folder, contents);
  expect(await texts(folder)).toEqual([
    'a.html: new a',
    'b.html: new b',
    'c.html: new c',
    'mine.txt: mine',
  ]);
  expect((await stat(join(folder, 'a.html'))).mode & 0o777).toBe(0o640);
});

test('where the last cannot be put in place, those replaced before it are put back', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'a.html'), 'old a');
  await writeFile(join(folder, 'c.html'), 'old c');
  failing.add('c.html');
  await expect(writeTogether(folder, contents)).rejects.toThrow('the disk has gone');
  expect(await texts(folder)).toEqual(['a.html: old a', 'c.html: old c']);
});

test('where one is no file, nothing is touched', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'a.html'), 'old a');
  await mkdir(join(folder, 'c.html'));
  await expect(writeTogether(folder, contents)).rejects.toThrow('it is a folder or device');
  expect((await readdir(folder)).sort()).toEqual(['a.html', 'c.html']);
  expect(await readFile(join(folder, 'a.html'), 'utf8')).toBe('old a');
});

test('folders that were made for files that cannot be written go again', async () => {
  const folder = await tempFolder();
  failing.add('b.html');
  await expect(writeTogether(join(folder, 'far', 'off'), contents)).rejects.toThrow();
  expect(await readdir(folder)).toEqual([]);
});
