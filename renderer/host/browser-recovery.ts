import { createStore, del, entries, set } from 'idb-keyval';
import type { FileRef, RecoveredPlan } from './host';

/**
 * Copies of unsaved work, one a tab. Each tab holds a lock by the name of its copy for as long as
 * it lives, so that a new tab takes over the work of one that is gone and never that of one that is
 * still open beside it.
 */
export class BrowserRecovery {
  private readonly store = createStore('evenrack-recovery', 'copies');
  private readonly own = crypto.randomUUID();
  private readonly held: Promise<void>;

  constructor(private readonly locks: LockManager) {
    this.held = new Promise((resolve) => {
      // Held until the tab goes: the inner promise never ends.
      void locks.request(lockName(this.own), () => {
        resolve();
        return new Promise<never>(() => undefined);
      });
    });
  }

  async keep(text: string, ref: FileRef | null): Promise<void> {
    await this.held;
    const kept: RecoveredPlan = { text, ref, writtenAt: new Date().toISOString() };
    await set(this.own, kept, this.store);
  }

  /** The newest copy whose tab is gone, from now on this tab's own. */
  async take(): Promise<RecoveredPlan | null> {
    const { held = [], pending = [] } = await this.locks.query();
    const alive = new Set([...held, ...pending].map((lock) => lock.name));
    const orphans = (await entries<string, RecoveredPlan>(this.store))
      .filter(([id]) => id === this.own || !alive.has(lockName(id)))
      .sort(([, a], [, b]) => (a.writtenAt < b.writtenAt ? 1 : -1));
    const newest = orphans[0];
    if (!newest) return null;
    const [id, copy] = newest;
    if (id !== this.own) {
      await set(this.own, copy, this.store);
      await del(id, this.store);
    }
    return copy;
  }

  async forget(): Promise<void> {
    await del(this.own, this.store);
  }
}

function lockName(id: string): string {
  return `evenrack-recovery-${id}`;
}
