import { mkdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ErrorLog } from '../../electron/services/errorLog';
import { testShell } from './testShell';
import { tempFolder } from './tempFolder';

const now = (): Date => new Date('2026-03-31T12:00:00Z');

test('the log keeps what went wrong, over restarts, and is shown to who asks', async () => {
  const folder = await tempFolder();
  const { handlers } = testShell(folder);
  expect(await handlers.about({})).toEqual({
    dataPlace: folder,
    logPlace: join(folder, 'errors.log'),
    log: '',
  });
  await handlers.noteError({ details: 'TypeError: no lamp\nat draw' });
  await handlers.noteError({ details: 'TypeError: no lamp\nat draw' });
  const { log } = await testShell(folder).handlers.about({});
  expect(log).toBe('2026-03-31T12:00:00.000Z window: TypeError: no lamp\n    at draw\n');
});

test('the log never grows beyond twice its limit, and the newest stays', async () => {
  const log = new ErrorLog(join(await tempFolder(), 'errors.log'), now, 2000);
  for (let i = 0; i < 200; i++) log.note(`fault ${i} ${'x'.repeat(i)}`);
  const sizes = await Promise.all(
    [log.file, log.former].map(async (file) => (await stat(file)).size),
  );
  expect(Math.max(...sizes)).toBeLessThanOrEqual(2000);
  expect(await readFile(log.file, 'utf8')).toContain('fault 199');
  log.note('y'.repeat(1_000_000));
  expect((await stat(log.file)).size).toBeLessThan(4100);
});

test('a log that cannot be written is no further trouble', async () => {
  const folder = await tempFolder();
  const nowhere = new ErrorLog(join(folder, 'none', 'errors.log'), now);
  nowhere.note('a');
  expect(nowhere.text()).toBe('');
  await mkdir(join(folder, 'errors.log'));
  new ErrorLog(join(folder, 'errors.log'), now).note('b');
});
