import { mkdir, rmdir, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { unlessTrouble } from './fileTrouble';

/**
 * Makes a folder and those on the way to it; gives the ones it made, the innermost first. One by
 * one, because making them all at once never returns where the system has folders that cannot be
 * made, such as those under /proc. Throws the file system's error and leaves none behind.
 */
export async function makeFolders(folder: string): Promise<string[]> {
  const missing: string[] = [];
  for (let at = resolve(folder); at !== dirname(at) && (await isMissing(at)); at = dirname(at)) {
    missing.unshift(at);
  }
  const made: string[] = [];
  try {
    for (const path of missing) {
      if (await make(path)) made.unshift(path);
    }
  } catch (error) {
    await removeEmpty(made);
    throw error;
  }
  return made;
}

/** False: somebody else has made it in the meantime. */
async function make(path: string): Promise<boolean> {
  try {
    await mkdir(path);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

/** Removes folders again that nothing was written to. */
export async function removeEmpty(folders: readonly string[]): Promise<void> {
  for (const folder of folders) await unlessTrouble(() => rmdir(folder));
}

async function isMissing(path: string): Promise<boolean> {
  try {
    await stat(path);
    return false;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return true;
    throw error;
  }
}
