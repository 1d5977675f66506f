import { mkdir, readdir, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { CrashReports } from '../../electron/services/crashReports';
import { tempFolder } from './tempFolder';

/** Six reports of 1,000 bytes as Chromium lays them, the first the oldest. */
async function sixReports(): Promise<{ folder: string; reports: CrashReports }> {
  const folder = await tempFolder();
  await mkdir(join(folder, 'completed'));
  await writeFile(join(folder, 'settings.dat'), '');
  for (let i = 1; i <= 6; i++) {
    for (const ending of ['dmp', 'meta']) {
      const path = join(folder, 'completed', `${i}.${ending}`);
      await writeFile(path, 'x'.repeat(1000));
      await utimes(path, 1_700_000_000 + i, 1_700_000_000 + i);
    }
  }
  return { folder, reports: new CrashReports(folder) };
}

test('the newest reports of crashes stay, by number and by size, and nothing else goes', async () => {
  const { folder, reports } = await sixReports();
  await reports.prune();
  const left = async () => (await readdir(join(folder, 'completed'))).sort().join(' ');
  expect(await left()).toBe('2.dmp 2.meta 3.dmp 3.meta 4.dmp 4.meta 5.dmp 5.meta 6.dmp 6.meta');
  await reports.prune({ reports: 5, bytes: 2000 });
  expect(await left()).toBe('5.dmp 5.meta 6.dmp 6.meta');
  // One too large goes, though it is the newest.
  await reports.prune({ reports: 5, bytes: 999 });
  expect(await left()).toBe('');
  expect(await readdir(folder)).toEqual(['completed', 'settings.dat']);
});

test('reports of crashes are named, with their folder; none and no folder are none', async () => {
  const { folder, reports } = await sixReports();
  expect(await reports.text()).toBe(
    `6 crash reports in ${folder}, the newest of 2023-11-14T22:13:26.000Z. They may hold parts of what was open; nothing sends them.\n`,
  );
  expect(await new CrashReports(join(folder, 'none')).text()).toBe('');
  await reports.prune({ reports: 0, bytes: 0 });
  expect(await reports.text()).toBe('');
});
