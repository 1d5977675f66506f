import { readFile } from 'node:fs/promises';
import { z } from 'zod';
import { writeBeside } from './files/writeBeside';
import { isFileTrouble, isUnreadable } from './files/fileTrouble';

const longest = 12;
const listSchema = z.array(
  z.strictObject({ path: z.string().min(1), openedAt: z.iso.datetime({ offset: true }) }),
);
type Entry = z.infer<typeof listSchema>[number];

/** The plans opened or saved last, newest first, kept in a file of their own. */
export class Recents {
  constructor(
    private readonly file: string,
    private readonly now: () => Date,
  ) {}

  /** A list that is missing or broken is an empty one: it is a convenience, not the person's work. */
  async list(): Promise<Entry[]> {
    try {
      return listSchema.parse(JSON.parse(await readFile(this.file, 'utf8')));
    } catch (error) {
      if (!isFileTrouble(error) && !isUnreadable(error)) throw error;
      return [];
    }
  }

  async add(path: string): Promise<void> {
    const others = (await this.list()).filter((entry) => entry.path !== path);
    const entries = [{ path, openedAt: this.now().toISOString() }, ...others].slice(0, longest);
    await writeBeside(this.file, JSON.stringify(entries, null, 2));
  }
}
