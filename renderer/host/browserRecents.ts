import { createStore, entries, get, set, del } from 'idb-keyval';
import type { RecentPlan } from './host';

const longest = 12;

interface Entry {
  readonly name: string;
  readonly handle: FileSystemFileHandle;
  readonly openedAt: string;
}

/** The plans opened or saved last, with the browser's own handles to their files. */
export class BrowserRecents {
  private readonly store = createStore('evenrack-recent-plans', 'files');

  /** Notes the file and gives its key: that of an earlier entry where it is the same one. */
  async add(handle: FileSystemFileHandle): Promise<string> {
    const known = await entries<string, Entry>(this.store);
    const same = await findAsync(known, ([, entry]) => entry.handle.isSameEntry(handle));
    const key = same?.[0] ?? crypto.randomUUID();
    const entry: Entry = { name: handle.name, handle, openedAt: new Date().toISOString() };
    await set(key, entry, this.store);
    const old = known.filter(([id]) => id !== key).sort(newestFirst);
    for (const [id] of old.slice(longest - 1)) await del(id, this.store);
    return key;
  }

  async list(): Promise<RecentPlan[]> {
    const known = await entries<string, Entry>(this.store);
    return known
      .sort(newestFirst)
      .map(([key, { name, openedAt }]) => ({ ref: { key, name, seen: null }, openedAt }));
  }

  async handle(key: string): Promise<FileSystemFileHandle | null> {
    return (await get<Entry>(key, this.store))?.handle ?? null;
  }
}

function newestFirst([, a]: [string, Entry], [, b]: [string, Entry]): number {
  return a.openedAt < b.openedAt ? 1 : -1;
}

async function findAsync<T>(
  items: readonly T[],
  fits: (item: T) => Promise<boolean>,
): Promise<T | undefined> {
  for (const item of items) if (await fits(item)) return item;
  return undefined;
}
