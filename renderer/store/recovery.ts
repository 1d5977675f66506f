import { compactWriter } from '../document/open';
import type { Host } from '../host/host';
import { isUnsaved } from './planStore';
import type { PlanStore } from './planStore';

/** The clock and the person's hands, so that tests need neither. */
export interface Timing {
  set(run: () => void, ms: number): unknown;
  clear(timer: unknown): void;
  /** Since whenever, ms. */
  now(): number;
  /** `hear` is called whenever a key is struck or the pointer moves, until the returned end. */
  onHands(hear: () => void): () => void;
}

const signsOfHands = ['keydown', 'pointerdown', 'pointermove'] as const;

const realTiming: Timing = {
  set: (run, ms) => setTimeout(run, ms),
  clear: (timer) => {
    clearTimeout(timer as ReturnType<typeof setTimeout>);
  },
  now: () => performance.now(),
  onHands: (hear) => {
    for (const sign of signsOfHands) window.addEventListener(sign, hear, true);
    return () => {
      for (const sign of signsOfHands) window.removeEventListener(sign, hear, true);
    };
  },
};

/** Hands that rest this long pause; between the keys of a figure they rest less. */
const PAUSE_MS = 400;
/** An edit older than two seconds survives a kill: this long to wait for a pause, the rest to write. */
const LATEST_MS = 1500;

/**
 * Keeps a copy of an unsaved plan beside its file, one a plan and session: in the first pause after an edit, because making
 * the copy holds up the keys, and at the latest 1.5 s after the first edit not yet kept. Never makes
 * two copies at once. Forgets the copy once the plan is saved, undone to its saved state or closed.
 * `onFailure` hears why a copy could not be kept, once for each failure; the next edit tries again.
 * Returns the end of it.
 */
export function keepRecovery(
  store: PlanStore,
  host: Pick<Host, 'keepForRecovery' | 'forgetRecovery' | 'setUnsaved' | 'onKeepNow'>,
  onFailure: (reason: unknown) => void,
  timing = realTiming,
): () => void {
  const write = compactWriter();
  let timer: unknown = null;
  let lastDone = 0;
  // Copies are written one after another, or a slow old one could overwrite a newer.
  let queue = Promise.resolve();
  const enqueue = (work: () => Promise<void>) => {
    const done = queue.then(work).catch(onFailure);
    // What `onFailure` throws is told where mistakes are; the next edit still tries again.
    queue = done.catch((_told: unknown) => undefined);
  };

  const keep = () => {
    enqueue(async () => {
      const { plan, fileRef, copyId } = store.getState();
      if (!plan || !isUnsaved(store.getState())) return;
      // Not the text of a plan file, whose order and lines take several times as long.
      await host.keepForRecovery(copyId, write(plan), fileRef);
    });
  };
  const stopTimer = () => {
    if (timer !== null) timing.clear(timer);
    timer = null;
  };

  const waitForPause = (latest: number) => {
    timer = null;
    const now = timing.now();
    const due = Math.min(lastDone + PAUSE_MS, latest);
    if (due <= now) keep();
    else timer = timing.set(() => waitForPause(latest), due - now);
  };
  const follow = (unsaved: boolean) => {
    if (!unsaved) {
      stopTimer();
      return;
    }
    lastDone = timing.now();
    if (timer === null) waitForPause(lastDone + LATEST_MS);
  };
  const stopHearing = timing.onHands(() => {
    lastDone = timing.now();
  });
  const stopKeepNow = host.onKeepNow(() => {
    stopTimer();
    keep();
    return queue;
  });
  const start = isUnsaved(store.getState());
  host.setUnsaved(start);
  follow(start);

  const unsubscribe = store.subscribe((now, was) => {
    if (now.plan === was.plan && now.savedPlan === was.savedPlan) return;
    const unsaved = isUnsaved(now);
    if (unsaved !== isUnsaved(was)) host.setUnsaved(unsaved);
    // Left for another plan it was left knowingly.
    if (isUnsaved(was) && (!unsaved || now.copyId !== was.copyId)) {
      enqueue(() => host.forgetRecovery(was.copyId));
    }
    follow(unsaved);
  });
  return () => {
    unsubscribe();
    stopHearing();
    stopKeepNow();
    stopTimer();
  };
}
