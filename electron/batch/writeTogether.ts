import { rmSync } from 'node:fs';
import { chmod, copyFile, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { orUndo } from '../services/files/leftovers';
import { makeFolders, removeEmpty } from '../services/files/makeFolders';
import { renameOver } from '../services/files/renameOver';
import { fileToReplace, writeBeside } from '../services/files/writeBeside';

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
  const made = await makeFolders(folder);
  try {
    const aside = await mkdtemp(join(folder, '.writing-'));
    try {
      await orUndo(
        () => rmSync(aside, { recursive: true, force: true }),
        () => replaceAll(folder, aside, contents),
      );
    } finally {
      await rm(aside, { recursive: true, force: true });
    }
  } catch (error) {
    await removeEmpty(made);
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
      await renameOver(join(fresh, name), join(folder, name));
      placed.push(name);
    }
  } catch (error) {
    for (const name of placed) {
      if (replaced.has(name)) await renameOver(join(former, name), join(folder, name));
      else await rm(join(folder, name), { force: true });
    }
    throw error;
  }
}
