import { randomBytes } from 'node:crypto';
import { readdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fingerprint } from './files/fingerprint';
import { makeFolders } from './files/makeFolders';
import { isFileTrouble } from './files/fileTrouble';

/**
 * Which plan is open in which running window on this machine: an empty file each, in a folder that
 * all of them know, named by the plan's path, the process and the window. A mark whose process has
 * gone counts for nothing.
 */
export class OpenFiles {
  private mark: string | null = null;
  private readonly owner = randomBytes(6).toString('hex');

  constructor(
    private readonly folder: string,
    private readonly pid = process.pid,
    private readonly runs = isRunning,
  ) {}

  /**
   * Says that this window has a plan open, and no other any more; null: none. False: another window
   * has it open too. Marks are a convenience: where they cannot be made, nobody has it open.
   */
  async hold(path: string | null): Promise<boolean> {
    if (this.mark !== null) await rm(join(this.folder, this.mark), { force: true });
    this.mark = null;
    if (path === null) return true;
    const plan = fingerprint(path).slice(0, 32);
    this.mark = `${plan}-${this.pid}-${this.owner}`;
    try {
      await makeFolders(this.folder);
      await writeFile(join(this.folder, this.mark), '');
      const others = (await readdir(this.folder)).filter(
        (name) => name.startsWith(`${plan}-`) && name !== this.mark,
      );
      return !(await this.anyAlive(others));
    } catch (error) {
      if (!isFileTrouble(error)) throw error;
      return true;
    }
  }

  private async anyAlive(marks: readonly string[]): Promise<boolean> {
    let alive = false;
    for (const mark of marks) {
      const pid = Number(mark.split('-')[1]);
      if (this.runs(pid)) alive = true;
      else await rm(join(this.folder, mark), { force: true });
    }
    return alive;
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Another account's process may not be asked, but it is there.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
