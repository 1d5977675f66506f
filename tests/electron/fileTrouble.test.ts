import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { BatchError, isBadInput } from '../../electron/batch/batchError';
import {
  FileTrouble,
  isFileTrouble,
  troubleWith,
  unlessTrouble,
} from '../../electron/services/files/fileTrouble';
import { Refusal } from '../../renderer/words';
import { tempFolder } from './tempFolder';

const mistakes = [
  new Error('odd'),
  new TypeError('odd'),
  Object.assign(new TypeError('odd'), { code: 'ERR_INVALID_ARG_TYPE' }),
];

describe('whose fault an error is', () => {
  it('is told by its type, not by how it was made', async () => {
    const missing = await readFile(join(await tempFolder(), 'none')).catch(
      (error: unknown) => error,
    );
    const inputs = [new FileTrouble('odd'), new Refusal('odd'), new BatchError('a', 'b', 'c')];
    for (const error of [...inputs, missing]) expect(isBadInput(error)).toBe(true);
    for (const error of mistakes) expect(isBadInput(error)).toBe(false);
  });

  it('lets files be absent, and no mistake pass', async () => {
    const none = join(await tempFolder(), 'none');
    expect(await unlessTrouble(() => readFile(none))).toBeNull();
    expect(await unlessTrouble(() => Promise.resolve(3))).toBe(3);
    for (const error of mistakes) {
      await expect(unlessTrouble(() => Promise.reject(error))).rejects.toBe(error);
      expect(() => troubleWith('plan: cannot be read, ', error)).toThrow(error);
    }
  });

  it('names the file and the reason', () => {
    const full = Object.assign(new Error('ENOSPC'), { code: 'ENOSPC' });
    const trouble = troubleWith('plan: cannot be saved, ', full);
    expect(trouble.message).toBe('plan: cannot be saved, the disk is full');
    expect(isFileTrouble(trouble)).toBe(true);
  });
});
