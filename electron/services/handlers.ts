import { filtersToOpen, filtersToSave } from './dialogs';
import type { Dialogs } from './dialogs';
import type { FileNow, FileRef } from '../../shared-types/ipc';
import type { Handlers } from './ipc';
import { KnownPaths } from './knownPaths';
import type { PagePrinter } from './pages';
import type { OpenFiles } from './openFiles';
import { fingerprint } from './files/fingerprint';
import { fileNow, openFile, refOf, writeFileAt, writeUnlessChanged } from './files/planFiles';
import { withAttachments } from './files/pdfAttachments';
import type { Recents } from './recents';
import type { FoundCopyFile, Recovery } from './recovery';
import { FileTrouble, isFileTrouble, unlessTrouble } from './files/fileTrouble';

export interface Services {
  readonly dialogs: Dialogs;
  readonly recents: Recents;
  readonly recovery: Recovery;
  readonly openFiles: OpenFiles;
  readonly printer: PagePrinter;
  setUnsaved(unsaved: boolean): void;
  /** The window can take open requests from now on. */
  onListening(): void;
}

export interface ShellApi {
  readonly handlers: Handlers;
  /** Opens a plan that the system named: double click, drop on the icon, second start. */
  openFromSystem(path: string): Promise<{ text: string; ref: FileRef }>;
}

/** What the shell does for the window, over services that are handed in. */
export function createShellApi(services: Services): ShellApi {
  const { dialogs, recents, recovery, openFiles, printer } = services;
  const paths = new KnownPaths();

  async function openPlan(path: string): Promise<{ text: string; ref: FileRef }> {
    const opened = await openFile(path);
    await noteRecent(path);
    return opened;
  }

  /** The list is a convenience; failing to keep it must not fail the opening or saving. */
  async function noteRecent(path: string): Promise<void> {
    await unlessTrouble(() => recents.add(path));
  }

  async function chooseAndWrite(
    suggestedName: string,
    kind: Parameters<typeof filtersToSave>[0],
    content: (path: string) => Promise<string | Uint8Array>,
  ): Promise<string | null> {
    const chosen = await dialogs.saveFile(suggestedName, filtersToSave(kind));
    if (chosen === null) return null;
    const path = await paths.add(chosen);
    await writeFileAt(path, await content(path));
    return path;
  }

  const handlers: Handlers = {
    async open({ kind }) {
      const chosen = await dialogs.openFile(filtersToOpen(kind));
      if (chosen === null) return null;
      const path = await paths.add(chosen);
      return kind === 'plan'
        ? openPlan(path)
        : openFile(path, { anyEncoding: true, workbooks: kind === 'records' });
    },
    async openRecent({ ref }) {
      const listed = (await recents.list()).some((entry) => entry.path === ref.key);
      if (!listed) throw new FileTrouble(`${ref.key}: is not in the list of recent plans`);
      return openPlan(await paths.addKept(ref.key));
    },
    async recentPlans() {
      const entries = await recents.list();
      return entries.map(({ path, openedAt }) => ({ ref: refOf(path, null), openedAt }));
    },
    async save({ ref, text, copy }) {
      // Asked for at once: the copy of an edit that comes later must come later here, too.
      const upTo = paths.has(ref.key) ? recovery.keepUpTo(copy, text, ref) : Promise.resolve();
      // A copy that cannot be kept is no reason not to save.
      await unlessTrouble(() => upTo);
      const path = await paths.check(ref.key);
      const theirs = await writeUnlessChanged(ref, text);
      if (theirs) return { kind: 'changed', theirs };
      const saved = refOf(path, fingerprint(text));
      await unlessTrouble(() => recovery.saved(copy, text, saved));
      await noteRecent(path);
      return { kind: 'saved', ref: saved };
    },
    async saveAs({ suggestedName, text, copy }) {
      const path = await chooseAndWrite(suggestedName, 'plan', async (chosen) => {
        await unlessTrouble(() => recovery.keepUpTo(copy, text, refOf(chosen, null)));
        return text;
      });
      if (path === null) return null;
      const saved = refOf(path, fingerprint(text));
      await unlessTrouble(() => recovery.saved(copy, text, saved));
      await noteRecent(path);
      return saved;
    },
    async exportText({ suggestedName, kind, text, bytes }) {
      const content = bytes ? Buffer.from(text, 'latin1') : text;
      return (await chooseAndWrite(suggestedName, kind, () => Promise.resolve(content))) !== null;
    },
    async print({ html }) {
      await printer.print(html);
      return null;
    },
    async savePdf({ suggestedName, html, attachments = [] }) {
      const path = await chooseAndWrite(suggestedName, 'pdf', async () =>
        withAttachments(await printer.pdf(html), attachments),
      );
      return path === null ? 'cancelled' : 'saved';
    },
    async keepForRecovery({ copy, text, ref }) {
      // After a restart the path counts as chosen, so only a chosen one is kept; the text always.
      await recovery.keep(copy, text, ref !== null && paths.has(ref.key) ? ref : null);
      return null;
    },
    async recoveries() {
      const found = await Promise.all(
        (await recovery.list()).map((copy) => withFile(copy, services.recovery, paths)),
      );
      return found.flatMap((copy) => copy ?? []);
    },
    async forgetRecovery({ copy }) {
      await recovery.forget(copy);
      return null;
    },
    holdFile: ({ ref }) => openFiles.hold(ref !== null && paths.has(ref.key) ? ref.key : null),
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

/** A copy beside its file as it is now; null: the file holds all of the copy, which goes. */
async function withFile(
  { copy, place, kept }: FoundCopyFile,
  recovery: Recovery,
  paths: KnownPaths,
) {
  if (kept === null || kept.ref === null) return { copy, place, kept, file: null };
  let file: FileNow | null;
  try {
    file = await fileNow(await paths.addKept(kept.ref.key));
  } catch (error) {
    if (!isFileTrouble(error)) throw error;
    // The folder is gone, or a link stands in the file's place: the work counts, not the path.
    return { copy, place, kept: { ...kept, ref: null }, file: null };
  }
  if (file?.ref.seen !== fingerprint(kept.text)) {
    // Cut off in the middle of a save of ours: what the file holds is known.
    const ours = file && kept.saving === file.ref.seen ? file.ref : null;
    return { copy, place, kept: ours ? { ...kept, ref: ours } : kept, file };
  }
  await recovery.forget(copy);
  return null;
}
