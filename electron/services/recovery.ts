import { readFile, rm } from 'node:fs/promises';
import { ipcChannels } from '../../shared-types/ipc';
import type { Response } from '../../shared-types/ipc';
import { writeBeside } from './write-beside';

export type Recovered = NonNullable<Response<'recover'>>;

/** The copy of unsaved work that outlives a kill. Writes happen one after the other, in order. */
export class Recovery {
  private last: Promise<unknown> = Promise.resolve();

  constructor(
    private readonly file: string,
    private readonly now: () => Date,
  ) {}

  keep(text: string, ref: Recovered['ref']): Promise<void> {
    return this.inOrder(() => {
      const kept: Recovered = { text, ref, writtenAt: this.now().toISOString() };
      return writeBeside(this.file, JSON.stringify(kept));
    });
  }

  read(): Promise<Recovered | null> {
    return this.inOrder(async () => {
      const text = await readFile(this.file, 'utf8').catch(() => null);
      if (text === null) return null;
      try {
        return ipcChannels.recover.response.parse(JSON.parse(text));
      } catch {
        // Written by us and renamed whole: what can't be read here holds no work of the person.
        return null;
      }
    });
  }

  forget(): Promise<void> {
    return this.inOrder(() => rm(this.file, { force: true }));
  }

  private inOrder<T>(step: () => Promise<T>): Promise<T> {
    const result = this.last.then(step, step);
    this.last = result.catch(() => undefined);
    return result;
  }
}
