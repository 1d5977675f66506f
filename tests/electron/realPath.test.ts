import { expect, test } from 'vitest';
import { realPathOf } from '../../electron/services/files/realPath';
import { fileTrouble, isFileTrouble } from '../../electron/services/files/fileTrouble';

const refused = (code: string) => () =>
  Promise.reject(Object.assign(new Error(`${code}: realpath`), { code }));
const walked = (path: string): Promise<string> => Promise.resolve(`walked ${path}`);

test('a drive that cannot say where its links lead has them followed one by one', async () => {
  // Drives of memory and of some clouds on Windows.
  expect(await realPathOf('R:\\a', refused('EISDIR'), walked)).toBe('walked R:\\a');
  expect(await realPathOf('R:\\a', refused('UNKNOWN'), walked)).toBe('walked R:\\a');
  await expect(realPathOf('R:\\a', refused('EISDIR'), refused('ELOOP'))).rejects.toThrow('ELOOP');
  // What is not there is not there.
  await expect(realPathOf('R:\\a', refused('ENOENT'), walked)).rejects.toThrow('ENOENT');
});

test('a refusal of Windows without a name of its own is no mistake of the program', async () => {
  const error: unknown = await refused('UNKNOWN')().catch((told: unknown) => told);
  expect(isFileTrouble(error)).toBe(true);
  expect(fileTrouble(error)).toBe('the system or a cloud folder refuses it');
});
