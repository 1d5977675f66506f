import { realpath as walkLinks } from 'node:fs';
import { realpath } from 'node:fs/promises';
import { promisify } from 'node:util';

/**
 * The path that a path stands for, its links followed. Windows cannot say it of some drives, of
 * memory or of a cloud: there the links are followed one by one.
 */
export async function realPathOf(
  path: string,
  asked: (path: string) => Promise<string> = realpath,
  walked: (path: string) => Promise<string> = promisify(walkLinks),
): Promise<string> {
  try {
    return await asked(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') throw error;
    return walked(path);
  }
}
