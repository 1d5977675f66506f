import { Refusal } from '../words/refusal';
import {
  askFor,
  downloadPlan,
  digestOf,
  handleNow,
  pickFile,
  readHandle,
  saveNew,
  writeHandle,
} from './browserFiles';
import { BrowserErrors } from './browserErrors';
import { HeldFile } from './browserHeld';
import { printInFrame } from './browserPrint';
import { BrowserRecents } from './browserRecents';
import { BrowserRecovery } from './browserRecovery';
import { orTrouble, unlessBrowserTrouble } from './browserTrouble';
import type { FileNow, FileRef, Host, Saved } from './host';

const RECENT = 'recent plans';

/**
 * The host in a plain browser. Where the browser can hold on to files, plans are saved in place
 * and listed as recent; elsewhere they are read from a file field and saved as downloads.
 */
export function browserHost(window: Window): Host {
  const recents = new BrowserRecents();
  const recovery = new BrowserRecovery(window.navigator.locks);
  const errors = new BrowserErrors(window);
  const heldFile = new HeldFile(window.navigator.locks);
  // The recent list forgets its oldest; a file that is open now must stay writable.
  const handles = new Map<string, FileSystemFileHandle>();
  let unsaved = false;
  window.addEventListener('beforeunload', (event) => {
    if (unsaved) event.preventDefault();
  });

  async function refOf(
    name: string,
    handle: FileSystemFileHandle | null,
    seen: string,
  ): Promise<FileRef> {
    if (!handle) return { key: `download:${name}`, name, seen };
    const key = await orTrouble(RECENT, () => recents.add(handle));
    handles.set(key, handle);
    return { key, name: handle.name, seen };
  }

  const handleOf = async ({ key }: FileRef): Promise<FileSystemFileHandle | null> =>
    handles.get(key) ?? (await orTrouble(RECENT, () => recents.handle(key)));

  async function fileNow(ref: FileRef): Promise<FileNow | null> {
    const handle = await handleOf(ref);
    const now = handle && (await handleNow(handle));
    if (!now) return null;
    const { seen, text, changedAt } = now;
    return { ref: { ...ref, seen }, text, changedAt };
  }

  async function save(ref: FileRef, text: string, copy: string): Promise<Saved> {
    const mine = await digestOf(text);
    // A copy that cannot be kept is no reason not to save.
    await unlessBrowserTrouble(() => recovery.keepUpTo(copy, text, ref, mine));
    const handle = await handleOf(ref);
    if (!handle) {
      downloadPlan(window, ref, text);
      return savedAs({ ...ref, seen: mine }, text, copy);
    }
    await askFor(handle, 'readwrite');
    const theirs = await fileNow(ref);
    if (theirs && theirs.ref.seen !== ref.seen && theirs.ref.seen !== mine) {
      return { kind: 'changed', theirs };
    }
    await writeHandle(handle, text);
    return savedAs(await refOf(ref.name, handle, mine), text, copy);
  }

  async function savedAs(ref: FileRef, text: string, copy: string): Promise<Saved> {
    await unlessBrowserTrouble(() => recovery.saved(copy, text, ref));
    return { kind: 'saved', ref };
  }

  return {
    kind: 'browser',
    async open(kind) {
      const picked = await pickFile(window, kind);
      if (!picked) return null;
      const { text, name, handle, seen, bytes } = picked;
      return { text, bytes, ref: await refOf(name, kind === 'plan' ? handle : null, seen) };
    },
    async openRecent(ref) {
      const handle = await orTrouble(RECENT, () => recents.handle(ref.key));
      if (!handle) throw new Refusal(`${ref.name}: is not in the list of recent plans`);
      const { text, seen } = await readHandle(handle, 'plan');
      return { text, ref: await refOf(ref.name, handle, seen) };
    },
    recentPlans: () => orTrouble(RECENT, () => recents.list()),
    save,
    async saveAs(suggestedName, text, copy) {
      const saved = await saveNew(window, suggestedName, 'plan', text);
      if (!saved) return null;
      const ref = await refOf(saved.name, saved.handle, await digestOf(text));
      await unlessBrowserTrouble(() => recovery.saved(copy, text, ref));
      return ref;
    },
    async exportText(suggestedName, kind, content) {
      return (await saveNew(window, suggestedName, kind, content)) !== null;
    },
    print: (html) => printInFrame(window, html),
    savePdf: () => Promise.resolve('unavailable'),
    keepForRecovery: (copy, text, ref) =>
      orTrouble('recovery copy', () => recovery.keep(copy, text, ref)),
    async recoveries() {
      const found = await orTrouble('recovery copies', () => recovery.list());
      return Promise.all(
        found.map(async ({ copy, kept }) => {
          const place = `this browser’s store evenrack-recovery, entry ${copy}`;
          const file = kept?.ref ? await fileNow(kept.ref) : null;
          // Cut off in the middle of a save of this plan: what the file holds is known.
          const ours = file && kept?.saving === file.ref.seen ? file.ref : null;
          return { copy, place, kept: kept && ours ? { ...kept, ref: ours } : kept, file };
        }),
      );
    },
    forgetRecovery: (copy) => orTrouble('recovery copy', () => recovery.forget(copy)),
    holdFile: (ref) => heldFile.hold(ref === null || isDownload(ref) ? null : ref.key),
    setUnsaved(value) {
      unsaved = value;
    },
    // A browser has no way to ask, and no menu of ours.
    onOpenRequest: () => () => undefined,
    onMenu: () => () => undefined,
    onKeepNow(keep) {
      const { document } = window;
      // The last sign that a browser gives for sure: the page is closed, left or put away.
      const hear = (): void => {
        if (document.visibilityState === 'hidden') void keep();
      };
      document.addEventListener('visibilitychange', hear);
      return () => document.removeEventListener('visibilitychange', hear);
    },
    noteError: (details) => errors.note(details),
    about: () =>
      Promise.resolve({
        dataPlace: `this browser’s own store for ${window.location.origin}`,
        logPlace: 'this browser’s own store',
        log: errors.text(),
      }),
  };
}

/** Nothing ties a download to a file. */
function isDownload({ key }: FileRef): boolean {
  return key.startsWith('download:');
}
