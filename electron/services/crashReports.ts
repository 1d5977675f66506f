import { readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { unlessTrouble } from './files/fileTrouble';

const most = { reports: 5, bytes: 20_000_000 };
/** Chromium sorts them into folders, one deep. */
const ending = '.dmp';

interface Report {
  readonly path: string;
  readonly bytes: number;
  readonly at: Date;
}

/** What Chromium writes down where a process of the program crashes. Nothing sends it. */
export class CrashReports {
  constructor(private readonly folder: string) {}

  /** Removes all but the newest few. What cannot be removed stays. */
  async prune(limit = most): Promise<void> {
    let bytes = 0;
    for (const [i, report] of (await this.#list()).entries()) {
      bytes += report.bytes;
      if (i < limit.reports && bytes <= limit.bytes) continue;
      await unlessTrouble(() => rm(report.path, { force: true }));
      await unlessTrouble(() => rm(report.path.replace(/dmp$/, 'meta'), { force: true }));
    }
  }

  /** What there is, in a sentence for the end of the log; empty: none. */
  async text(): Promise<string> {
    const [newest, ...others] = await this.#list();
    if (!newest) return '';
    const many = others.length === 0 ? 'A crash report' : `${others.length + 1} crash reports`;
    return `${many} in ${this.folder}, the newest of ${newest.at.toISOString()}. They may hold parts of what was open; nothing sends them.\n`;
  }

  /** The newest first. */
  async #list(): Promise<Report[]> {
    const within = await filesIn(this.folder);
    const deeper = await Promise.all(within.map(filesIn));
    const found = await Promise.all(
      [within, ...deeper]
        .flat()
        .filter((path) => path.endsWith(ending))
        .map(async (path) => {
          const is = await unlessTrouble(() => stat(path));
          return is?.isFile() ? [{ path, bytes: is.size, at: is.mtime }] : [];
        }),
    );
    return found.flat().sort((a, b) => b.at.getTime() - a.at.getTime());
  }
}

/** Paths of what is in a folder; none where it is none. */
async function filesIn(folder: string): Promise<string[]> {
  const names = (await unlessTrouble(() => readdir(folder))) ?? [];
  return names.map((name) => join(folder, name));
}
