import { filtersToOpen, filtersToSave } from './dialogs';
import type { Dialogs } from './dialogs';
import { fileTrouble } from './file-trouble';
import type { Handlers } from './ipc';
import { KnownPaths } from './known-paths';
import type { PagePrinter } from './pages';
import { readText } from './read-text';
import { refOf } from './recents';
import type { Recents } from './recents';
import type { Recovery } from './recovery';
import { writeBeside } from './write-beside';

export interface Services {
  readonly dialogs: Dialogs;
  readonly recents: Recents;
  readonly recovery: Recovery;
  readonly printer: PagePrinter;
  setUnsaved(unsaved: boolean): void;
  /** The window can take open requests from now on. */
  onListening(): void;
}

export interface Desk {
  readonly handlers: Handlers;
  /** Opens a plan that the system named: double click, drop on the icon, second start. */
  openFromSystem(path: string): Promise<{ text: string; ref: { key: string; name: string } }>;
}

/** What the shell does for the window, over services that are handed in. */
export function createDesk(services: Services): Desk {
  const { dialogs, recents, recovery, printer } = services;
  const paths = new KnownPaths();

  async function openPlan(path: string): Promise<{ text: string; ref: ReturnType<typeof refOf> }> {
    const text = await readText(path);
    await noteRecent(path);
    return { text, ref: refOf(path) };
  }

  /** The list is a convenience; failing to keep it must not fail the opening or saving. */
  async function noteRecent(path: string): Promise<void> {
    await recents.add(path).catch(() => undefined);
  }

  async function chooseAndWrite(
    suggestedName: string,
    kind: Parameters<typeof filtersToSave>[0],
    content: () => Promise<string | Uint8Array>,
  ): Promise<string | null> {
    const chosen = await dialogs.saveFile(suggestedName, filtersToSave(kind));
    if (chosen === null) return null;
    const path = await paths.add(chosen);
    await write(path, await content());
    return path;
  }

  const handlers: Handlers = {
    async open({ kind }) {
      const chosen = await dialogs.openFile(filtersToOpen(kind));
      if (chosen === null) return null;
      const path = await paths.add(chosen);
      return kind === 'plan'
        ? openPlan(path)
        : { text: await readText(path, true), ref: refOf(path) };
    },
    async openRecent({ ref }) {
      const listed = (await recents.list()).some((entry) => entry.path === ref.key);
      if (!listed) throw new Error(`${ref.key}: is not in the list of recent plans`);
      return openPlan(await paths.addKept(ref.key));
    },
    async recentPlans() {
      const entries = await recents.list();
      return entries.map(({ path, openedAt }) => ({ ref: refOf(path), openedAt }));
    },
    async save({ ref, text }) {
      const path = await paths.check(ref.key);
      await write(path, text);
      await noteRecent(path);
      return refOf(path);
    },
    async saveAs({ suggestedName, text }) {
      const path = await chooseAndWrite(suggestedName, 'plan', () => Promise.resolve(text));
      if (path === null) return null;
      await noteRecent(path);
      return refOf(path);
    },
    async exportText({ suggestedName, kind, text, bytes }) {
      const content = bytes ? Buffer.from(text, 'latin1') : text;
      return (await chooseAndWrite(suggestedName, kind, () => Promise.resolve(content))) !== null;
    },
    async print({ html }) {
      await printer.print(html);
      return null;
    },
    async savePdf({ suggestedName, html }) {
      const path = await chooseAndWrite(suggestedName, 'pdf', () => printer.pdf(html));
      return path === null ? 'cancelled' : 'saved';
    },
    async keepForRecovery({ text, ref }) {
      // After a restart the path counts as chosen, so only a chosen one is kept; the text always.
      await recovery.keep(text, ref !== null && paths.has(ref.key) ? ref : null);
      return null;
    },
    async recover() {
      const kept = await recovery.read();
      if (kept === null || kept.ref === null) return kept;
      try {
        await paths.addKept(kept.ref.key);
        return kept;
      } catch {
        // The folder is gone, or a link stands in the file's place: the work counts, not the path.
        return { ...kept, ref: null };
      }
    },
    async forgetRecovery() {
      await recovery.forget();
      return null;
    },
    async setUnsaved({ unsaved }) {
      services.setUnsaved(unsaved);
      return null;
    },
    async listening() {
      services.onListening();
      return null;
    },
  };

  return {
    handlers,
    openFromSystem: async (path) => openPlan(await paths.add(path)),
  };
}

async function write(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await writeBeside(path, content);
  } catch (error) {
    throw new Error(`${path}: cannot be saved, ${fileTrouble(error)}`, { cause: error });
  }
}
