import { createStore, del, entries, set } from 'idb-keyval';
import type { FileRef, KeptCopy } from './host';

interface Entry {
  readonly kept: KeptCopy;
  /** The tab that wrote it. */
  readonly session: string;
}

/** A copy as it is found; `kept` is null where it cannot be read. */
export interface FoundCopy {
  readonly copy: string;
  readonly kept: KeptCopy | null;
}

/**
 * Copies of unsaved work in the browser's own store, by the id that the window gives to a plan when
 * it opens it. Each tab holds a lock by the name of its session for as long as it lives, so that the
 * work of a tab that has gone is offered and never that of one that is still open.
 */
export class BrowserRecovery {
  private readonly store = createStore('evenrack-recovery', 'copies');
  private readonly session = crypto.randomUUID();
  private readonly held: Promise<void>;
  /** What this tab kept last under each id. */
  private readonly texts = new Map<string, string>();
  /** Fingerprint of what each was last being saved as. */
  private readonly saving = new Map<string, string>();

  constructor(private readonly locks: LockManager) {
    this.held = new Promise((resolve) => {
      // Held until the tab goes: the inner promise never ends.
      void locks.request(lockName(this.session), () => {
        resolve();
        return new Promise<never>(() => undefined);
      });
    });
  }

  async keep(copy: string, text: string, ref: FileRef | null): Promise<void> {
    this.texts.set(copy, text);
    await this.held;
    const saving = this.saving.get(copy);
    const writtenAt = new Date().toISOString();
    const kept: KeptCopy = { text, ref, writtenAt, ...(saving ? { saving } : {}) };
    await set(copy, { kept, session: this.session } satisfies Entry, this.store);
  }

  /** Brings a copy, where there is one, up to the text that is about to be saved. */
  async keepUpTo(copy: string, text: string, ref: FileRef, seen: string): Promise<void> {
    this.saving.set(copy, seen);
    if (this.texts.has(copy)) await this.keep(copy, text, ref);
  }

  /**
   * A text has been saved under `ref`: its copy goes. Where a later edit has been kept meanwhile, it
   * stays and learns the new state of its file, or its own save would be told as somebody else's.
   */
  async saved(copy: string, text: string, ref: FileRef): Promise<void> {
    const last = this.texts.get(copy);
    if (last === text) await this.forget(copy);
    else if (last !== undefined) await this.keep(copy, last, ref);
  }

  /** Every copy whose tab is gone, readable or not. */
  async list(): Promise<FoundCopy[]> {
    const { held = [], pending = [] } = await this.locks.query();
    const alive = new Set([...held, ...pending].map((lock) => lock.name));
    return (await entries<string, unknown>(this.store)).flatMap(([copy, entry]) => {
      const { kept, session } = readEntry(copy, entry);
      return session !== this.session && alive.has(lockName(session)) ? [] : [{ copy, kept }];
    });
  }

  async forget(copy: string): Promise<void> {
    this.texts.delete(copy);
    await del(copy, this.store);
  }
}

/** Earlier versions kept one copy a tab, by the tab's own name and without a fingerprint. */
function readEntry(copy: string, entry: unknown): { kept: KeptCopy | null; session: string } {
  if (!isGroup(entry)) return { kept: null, session: copy };
  const inner = isGroup(entry['kept']) ? entry['kept'] : entry;
  const session = typeof entry['session'] === 'string' ? entry['session'] : copy;
  const { text, ref, writtenAt, saving } = inner;
  if (typeof text !== 'string' || typeof writtenAt !== 'string') return { kept: null, session };
  const known = typeof saving === 'string' ? { saving } : {};
  return { kept: { text, ref: readRef(ref), writtenAt, ...known }, session };
}

function readRef(ref: unknown): FileRef | null {
  if (!isGroup(ref)) return null;
  const { key, name, seen } = ref;
  if (typeof key !== 'string' || typeof name !== 'string') return null;
  return { key, name, seen: typeof seen === 'string' ? seen : null };
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function lockName(session: string): string {
  return `evenrack-recovery-${session}`;
}
