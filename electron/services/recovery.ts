import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { randomUUID } from 'node:crypto';
import { keptCopy } from '../../shared-types/window/ipc';
import type { FileRef, KeptCopy } from '../../shared-types/window/ipc';
import { fingerprint } from './files/fingerprint';
import { makeFolders } from './files/makeFolders';
import { renameOver } from './files/renameOver';
import { writeBeside } from './files/writeBeside';
import { isFileTrouble, isUnreadable, unlessTrouble } from './files/fileTrouble';

const ending = '.json';
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** A copy as it is found; `kept` is null where it cannot be read. */
export interface FoundCopyFile {
  readonly copy: string;
  /** Path of its file. */
  readonly place: string;
  readonly kept: KeptCopy | null;
}

/**
 * The copies of unsaved work that outlive a kill: a file each, by the id that the window gives to a
 * plan when it opens it. Nothing removes a copy but `forget`. Acts happen one after the other, in
 * order.
 */
export class Recovery {
  private last: Promise<unknown> = Promise.resolve();
  /** What was kept last under each id in this run. */
  private readonly texts = new Map<string, string>();
  private readonly saving = new Map<string, string>();

  constructor(
    private readonly folder: string,
    private readonly now: () => Date,
    /** Where earlier versions kept their one copy. */
    private readonly formerFile: string | null = null,
  ) {}

  keep(copy: string, text: string, ref: FileRef | null): Promise<void> {
    return this.inOrder(() => this.write(copy, text, ref));
  }

  /**
   * Brings a copy, where there is one, up to the text that is about to be saved. Cut off between
   * saving and forgetting, the copy is then equal to its file and never an older state of it.
   */
  keepUpTo(copy: string, text: string, ref: FileRef): Promise<void> {
    return this.inOrder(async () => {
      this.saving.set(copy, fingerprint(text));
      if (this.texts.has(copy)) await this.write(copy, text, ref);
    });
  }

  /** Every copy there is, readable or not, in no order. */
  list(): Promise<FoundCopyFile[]> {
    return this.inOrder(async () => {
      await this.takeFormer();
      const names = (await unlessTrouble(() => readdir(this.folder))) ?? [];
      const copies = names
        .filter((name) => name.endsWith(ending))
        .map((name) => name.slice(0, -ending.length))
        .filter((copy) => uuid.test(copy));
      return Promise.all(copies.map((copy) => this.read(copy)));
    });
  }

  forget(copy: string): Promise<void> {
    return this.inOrder(() => this.remove(copy));
  }

  /**
   * A text has been saved under `ref`: its copy goes. Where a later edit has been kept meanwhile, it
   * stays and learns the new state of its file, or its own save would be told as somebody else's.
   */
  saved(copy: string, text: string, ref: FileRef): Promise<void> {
    return this.inOrder(async () => {
      const last = this.texts.get(copy);
      if (last === text) await this.remove(copy);
      else if (last !== undefined) await this.write(copy, last, ref);
    });
  }

  private async remove(copy: string): Promise<void> {
    await rm(this.pathOf(copy), { force: true });
    this.texts.delete(copy);
  }

  private async write(copy: string, text: string, ref: FileRef | null): Promise<void> {
    const saving = this.saving.get(copy);
    const writtenAt = this.now().toISOString();
    const kept: KeptCopy = { text, ref, writtenAt, ...(saving ? { saving } : {}) };
    await makeFolders(this.folder);
    await writeBeside(this.pathOf(copy), JSON.stringify(kept));
    this.texts.set(copy, text);
  }

  private async read(copy: string): Promise<FoundCopyFile> {
    const place = this.pathOf(copy);
    try {
      return { copy, place, kept: keptCopy.parse(JSON.parse(await readFile(place, 'utf8'))) };
    } catch (error) {
      if (!isFileTrouble(error) && !isUnreadable(error)) throw error;
      return { copy, place, kept: null };
    }
  }

  private async takeFormer(): Promise<void> {
    const former = this.formerFile;
    if (former === null) return;
    // Mostly there is none.
    await unlessTrouble(async () => {
      await makeFolders(this.folder);
      await renameOver(former, this.pathOf(randomUUID()));
    });
  }

  private pathOf(copy: string): string {
    return join(this.folder, copy + ending);
  }

  private inOrder<T>(step: () => Promise<T>): Promise<T> {
    const result = this.last.then(step, step);
    // Who asked for a step is told of its trouble; the next one comes all the same.
    this.last = result.catch((_told: unknown) => undefined);
    return result;
  }
}
