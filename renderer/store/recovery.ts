import { writePlan } from '../document/open';
import type { Host } from '../host/host';
import { isUnsaved } from './planStore';
import type { PlanStore } from './planStore';

/** The clock, so that tests need not wait. */
export interface Timers {
  set(run: () => void, ms: number): unknown;
  clear(timer: unknown): void;
}

/** An edit older than two seconds survives a kill: one to wait for more, one to write. */
const DELAY_MS = 1000;

/**
 * Keeps a copy of an unsaved plan beside its file, a second after the first edit not yet kept, also
 * while edits go on, and never two copies at once. Forgets the copy once the plan is saved,
 * undone to its saved state or closed. `onFailure` hears why a copy could not be kept, once for
 * each failure; the next edit tries again. Returns the end of it.
 */
export function keepRecovery(
  store: PlanStore,
  host: Pick<Host, 'keepForRecovery' | 'forgetRecovery' | 'setUnsaved'>,
  onFailure: (reason: unknown) => void,
  timers: Timers = {
    set: (run, ms) => setTimeout(run, ms),
    clear: (timer) => {
      clearTimeout(timer as ReturnType<typeof setTimeout>);
    },
  },
): () => void {
  let timer: unknown = null;
  // Copies are written one after another, or a slow old one could overwrite a newer.
  let queue = Promise.resolve();
  const enqueue = (work: () => Promise<void>) => {
    queue = queue.then(work).catch(onFailure);
  };

  const keep = () => {
    timer = null;
    enqueue(async () => {
      const { plan, fileRef } = store.getState();
      if (plan && isUnsaved(store.getState())) await host.keepForRecovery(writePlan(plan), fileRef);
    });
  };
  const stopTimer = () => {
    if (timer !== null) timers.clear(timer);
    timer = null;
  };

  const follow = (unsaved: boolean) => {
    if (unsaved) timer ??= timers.set(keep, DELAY_MS);
    else stopTimer();
  };
  const start = isUnsaved(store.getState());
  host.setUnsaved(start);
  follow(start);

  const unsubscribe = store.subscribe((now, was) => {
    if (now.plan === was.plan && now.savedPlan === was.savedPlan) return;
    const unsaved = isUnsaved(now);
    if (unsaved !== isUnsaved(was)) {
      host.setUnsaved(unsaved);
      if (!unsaved) enqueue(() => host.forgetRecovery());
    }
    follow(unsaved);
  });
  return () => {
    unsubscribe();
    stopTimer();
  };
}
