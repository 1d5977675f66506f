import { expect, test } from 'vitest';
import { renameOver } from '../../electron/services/files/renameOver';

/** A system that holds the target for a number of tries. */
async function tries(times: number, code: string, platform: NodeJS.Platform = 'win32') {
  const pauses: number[] = [];
  let tried = 0;
  const rename = (): Promise<void> =>
    ++tried <= times ? Promise.reject(Object.assign(new Error(code), { code })) : Promise.resolve();
  const pause = (ms: number) => Promise.resolve(pauses.push(ms));
  const done = renameOver('a', 'b', rename, { platform, pause });
  const end = await done.then(
    () => 'done',
    (error: unknown) => String(error),
  );
  return { end, tried, waitedMs: pauses.reduce((sum, ms) => sum + ms, 0) };
}

test.each(['EPERM', 'EACCES', 'EBUSY'])(
  'a file that Windows holds for a moment: %s',
  async (code) => {
    expect(await tries(5, code)).toEqual({ end: 'done', tried: 6, waitedMs: 310 });
  },
);

test('a file that stays held is told after some seconds', async () => {
  const { end, waitedMs } = await tries(Infinity, 'EBUSY');
  expect(end).toBe('Error: EBUSY');
  expect(waitedMs).toBeGreaterThanOrEqual(4000);
  expect(waitedMs).toBeLessThan(4500);
});

test('any other trouble, and any other system, is told at once', async () => {
  expect((await tries(1, 'ENOSPC')).tried).toBe(1);
  expect((await tries(1, 'EPERM', 'linux')).tried).toBe(1);
  expect((await tries(1, 'EBUSY', 'darwin')).tried).toBe(1);
});
