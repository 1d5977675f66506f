import { basename, dirname, join } from 'node:path';
import { FileTrouble, troubleWith } from './files/fileTrouble';
import { realPathOf } from './files/realPath';

/**
 * The paths that the person has chosen in a dialogue, opened through the system, or opened before.
 * The window can name no other path, whatever it asks for.
 */
export class KnownPaths {
  private readonly known = new Set<string>();

  /** Lets a path be used from now on and gives the real path that it stands for. */
  async add(path: string): Promise<string> {
    const real = await realPath(path);
    this.known.add(real);
    return real;
  }

  /** Lets a path be used that was kept from an earlier run, as `check` does. */
  async addKept(path: string): Promise<string> {
    await mustStandForItself(path);
    this.known.add(path);
    return path;
  }

  has(path: string): boolean {
    return this.known.has(path);
  }

  /** Throws where the path was never chosen, or where a link has been put in its place since. */
  async check(path: string): Promise<string> {
    if (!this.known.has(path)) {
      throw new FileTrouble(
        `${path}: was not chosen in this window; open it or save under a name first`,
      );
    }
    await mustStandForItself(path);
    return path;
  }
}

async function mustStandForItself(path: string): Promise<void> {
  const real = await realPath(path);
  if (real !== path) {
    throw new FileTrouble(
      `${path}: now leads to ${real}; open that file or save under a name first`,
    );
  }
}

/** Follows every link on the way; the last part need not exist yet. */
async function realPath(path: string): Promise<string> {
  try {
    return await realPathOf(path);
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'ENOENT')) {
      throw troubleWith(`${path}: `, error);
    }
  }
  try {
    return join(await realPathOf(dirname(path)), basename(path));
  } catch (error) {
    throw troubleWith(`${path}: `, error);
  }
}
