import { createHash, randomBytes } from 'node:crypto';
import { rmSync } from 'node:fs';
import type { Stats } from 'node:fs';
import { access, constants, open, readdir, stat, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { orUndo } from './leftovers';
import { renameOver } from './renameOver';
import { FileTrouble, unlessTrouble } from './fileTrouble';

const ending = '.saving';
/** Nobody takes this long over one file: what is older was left by a program that was killed. */
const leftoverAgeMs = 10 * 60_000;

/**
 * Writes a file so that at every timepoint, a kill or a power cut included, the path holds either all
 * of the old content or all of the new: beside it, flushed to disk, then renamed over it. The
 * file's permissions are kept. `beforeReplacing` has the last word: where it throws, nothing is
 * replaced. Throws the file system's error and leaves the old content.
 */
export async function writeBeside(
  path: string,
  content: string | Uint8Array,
  beforeReplacing: () => Promise<void> = () => Promise.resolve(),
): Promise<void> {
  const folder = dirname(path);
  const prefix = prefixFor(path);
  const old = await fileToReplace(path);
  const mode = old ? old.mode & 0o777 : undefined;
  const write = () =>
    writeOnce(path, join(folder, besideName(prefix)), content, mode, beforeReplacing);
  await write().catch((error: unknown) => {
    // Where the clock has jumped, another save may have taken what was just written for a leftover.
    if (!isLost(error)) throw error;
    return write();
  });
  await flushFolder(folder);
  await removeLeftovers(folder, prefix);
}

async function writeOnce(
  path: string,
  beside: string,
  content: string | Uint8Array,
  mode: number | undefined,
  beforeReplacing: () => Promise<void>,
): Promise<void> {
  await orUndo(
    () => rmSync(beside, { force: true }),
    async () => {
      const file = await open(beside, 'wx', mode);
      try {
        try {
          // The mode given to open is narrowed by the umask.
          if (mode !== undefined) await file.chmod(mode);
          await file.writeFile(content);
          await file.sync();
        } finally {
          await file.close();
        }
        await beforeReplacing();
        await renameOver(beside, path);
      } catch (error) {
        await unlessTrouble(() => unlink(beside));
        throw error;
      }
    },
  );
}

/** Whether what was to be renamed is no longer there. */
function isLost(error: unknown): boolean {
  const { code, syscall } = error as NodeJS.ErrnoException;
  return code === 'ENOENT' && syscall === 'rename';
}

const besideName = (prefix: string): string =>
  `${prefix}${randomBytes(6).toString('hex')}${ending}`;

/** A name of fixed length that belongs to the file: its own may be as long as the disk allows. */
function prefixFor(path: string): string {
  const name = createHash('sha256').update(basename(path)).digest('hex').slice(0, 12);
  return `.evenrack-${name}-`;
}

/**
 * The file that a rename to `path` would replace; null: none. Throws where it must not be replaced,
 * or not be written.
 */
export async function fileToReplace(path: string): Promise<Stats | null> {
  const old = await unlessTrouble(() => stat(path));
  // A rename over a device or a pipe would destroy it.
  if (old && !old.isFile()) throw new FileTrouble('it is a folder or device, not a file');
  // A rename needs no leave from the file it replaces; a write-protected file is to stay as it is.
  if (old) await access(path, constants.W_OK);
  return old;
}

/** Makes the rename itself survive a power cut, on systems that can flush a folder. */
async function flushFolder(folder: string): Promise<void> {
  // Windows can't open a folder; the rename is then as safe as the system makes it.
  await unlessTrouble(async () => {
    const handle = await open(folder, 'r');
    await handle.sync().finally(() => handle.close());
  });
}

async function removeLeftovers(folder: string, prefix: string): Promise<void> {
  const names = await unlessTrouble(() => readdir(folder));
  for (const name of names ?? []) {
    if (!name.startsWith(prefix) || !name.endsWith(ending)) continue;
    const path = join(folder, name);
    const found = await unlessTrouble(() => stat(path));
    if (found && Date.now() - found.mtimeMs > leftoverAgeMs)
      await unlessTrouble(() => unlink(path));
  }
}
