import { downloadPlan, pickFile, readHandle, saveNew, writeHandle } from './browser-files';
import { printInFrame } from './browser-print';
import { BrowserRecents } from './browser-recents';
import { BrowserRecovery } from './browser-recovery';
import type { FileRef, Host } from './host';

/**
 * The host in a plain browser. Where the browser can hold on to files, plans are saved in place
 * and listed as recent; elsewhere they are read from a file field and saved as downloads.
 */
export function browserHost(window: Window): Host {
  const recents = new BrowserRecents();
  const recovery = new BrowserRecovery(window.navigator.locks);
  // The recent list forgets its oldest; a file that is open now must stay writable.
  const handles = new Map<string, FileSystemFileHandle>();
  let unsaved = false;
  window.addEventListener('beforeunload', (event) => {
    if (unsaved) event.preventDefault();
  });

  async function refOf(name: string, handle: FileSystemFileHandle | null): Promise<FileRef> {
    if (!handle) return { key: `download:${name}`, name };
    const ref = await recents.add(handle);
    handles.set(ref.key, handle);
    return ref;
  }

  return {
    kind: 'browser',
    async open(kind) {
      const picked = await pickFile(window, kind);
      if (!picked) return null;
      const { text, name, handle } = picked;
      return { text, ref: await refOf(name, kind === 'plan' ? handle : null) };
    },
    async openRecent(ref) {
      const handle = await recents.handle(ref.key);
      if (!handle) throw new Error(`${ref.name}: is not in the list of recent plans`);
      const text = await readHandle(handle, 'plan');
      return { text, ref: await refOf(ref.name, handle) };
    },
    recentPlans: () => recents.list(),
    async save(ref, text) {
      const handle = handles.get(ref.key) ?? (await recents.handle(ref.key));
      if (!handle) {
        downloadPlan(window, ref, text);
        return ref;
      }
      await writeHandle(handle, text);
      return refOf(ref.name, handle);
    },
    async saveAs(suggestedName, text) {
      const saved = await saveNew(window, suggestedName, 'plan', text);
      return saved && refOf(saved.name, saved.handle);
    },
    async exportText(suggestedName, kind, content) {
      return (await saveNew(window, suggestedName, kind, content)) !== null;
    },
    print: (html) => printInFrame(window, html),
    savePdf: () => Promise.resolve('unavailable'),
    keepForRecovery: (text, ref) => recovery.keep(text, ref),
    recover: () => recovery.take(),
    forgetRecovery: () => recovery.forget(),
    setUnsaved(value) {
      unsaved = value;
    },
    // A browser has no way to ask, and no menu of ours.
    onOpenRequest: () => () => undefined,
    onMenu: () => () => undefined,
  };
}
