import { chmod, copyFile, mkdir, mkdtemp, rename, rm, rmdir, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { fileToReplace, writeBeside } from '../services/write-beside';

/**
 * Writes files into a folder, which is made if need be, all of them or none: where one fails, those
 * that stood there before are as they were, and nothing new is left. All are written into a folder
 * beside them first and put in place by renaming, so that a kill never leaves half a file. Throws
 * the file system's error.
 */
export async function writeTogether(
  folder: string,
  contents: ReadonlyMap<string, string | Uint8Array>,
): Promise<void> {
  const made: string[] = [];
  try {
    for (const missing of await missingFolders(folder)) {
      await mkdir(missing);
      made.unshift(missing);
    }
    const aside = await mkdtemp(join(folder, '.writing-'));
    try {
      await replaceAll(folder, aside, contents);
    } finally {
      await rm(aside, { recursive: true, force: true });
    }
  } catch (error) {
    for (const empty of made) await rmdir(empty).catch(() => undefined);
    throw error;
  }
}

async function replaceAll(
  folder: string,
  aside: string,
  contents: ReadonlyMap<string, string | Uint8Array>,
): Promise<void> {
  const fresh = join(aside, 'new');
  const former = join(aside, 'old');
  await mkdir(fresh);
  await mkdir(former);
  const replaced = new Set<string>();
  for (const [name, content] of contents) {
    const old = await fileToReplace(join(folder, name));
    await writeBeside(join(fresh, name), content);
    if (!old) continue;
    await chmod(join(fresh, name), old.mode & 0o777);
    await copyFile(join(folder, name), join(former, name));
    replaced.add(name);
  }
  const placed: string[] = [];
  try {
    for (const name of contents.keys()) {
      await rename(join(fresh, name), join(folder, name));
      placed.push(name);
    }
  } catch (error) {
    for (const name of placed) {
      if (replaced.has(name)) await rename(join(former, name), join(folder, name));
      else await rm(join(folder, name), { force: true });
    }
    throw error;
  }
}

/**
 * The folders on the way to one that are not there yet, the outermost first. One by one, because
 * making them all at once never returns where the system has folders that cannot be made.
 */
async function missingFolders(folder: string): Promise<string[]> {
  const missing: string[] = [];
  let at = resolve(folder);
  while (at !== dirname(at) && (await isMissing(at))) {
    missing.unshift(at);
    at = dirname(at);
  }
  return missing;
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
