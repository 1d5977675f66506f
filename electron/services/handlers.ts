import { filtersToOpen, filtersToSave } from './dialogs';
import type { Dialogs } from './dialogs';
import type { FileNow, FileRef } from '../../shared-types/window/ipc';
import type { Handlers } from './window/ipc';
import { KnownPaths } from './knownPaths';
import type { PagePrinter } from './window/pages';
import type { OpenFiles } from './openFiles';
import { fingerprint } from './files/fingerprint';
import { fileNow, openFile, refOf, writeFileAt, writeUnlessChanged } from './files/planFiles';
import { withAttachments } from './files/pdfAttachments';
import type { CrashReports } from './crashReports';
import type { ErrorLog } from './errorLog';
import type { Recents } from './recents';
import type { FoundCopyFile, Recovery } from './recovery';
import { FileTrouble, isFileTrouble, unlessTrouble } from './files/fileTrouble';

export interface Services {
  readonly dialogs: Dialogs;
  readonly recents: Recents;
  readonly recovery: Recovery;
  readonly openFiles: OpenFiles;
  readonly printer: PagePrinter;
  readonly errors: ErrorLog;
  /** Where the program itself may crash, and says so. */
  readonly crashes?: Pick<CrashReports, 'text'>;
  /** The folder of what the shell keeps. */
  readonly dataFolder: string;
  setUnsaved(unsaved: boolean): void;
  /** Tells the system which plan was opened or saved, for its own lists. */
  noteRecent?(path: string): void;
  /** The window can take open requests from now on. */
  onListening(): void;
  /** The window has kept what was unsaved, as it was asked to. */
  onWorkKept(): void;
}

export interface ShellApi {
  readonly handlers: Handlers;
  /** Opens a plan that the system named: double click, drop on the icon, second start. */
  openFromSystem(path: string): Promise<{ text: string; ref: FileRef }>;
}

/** What the shell does for the window, over services that are handed in. */
export function createShellApi(services: Services): ShellApi {
  const paths = new KnownPaths();
  const files = new ChosenFiles(services, paths);
  return {
    handlers: {
      ...planHandlers(services, files),
      ...paperHandlers(services, files),
      ...recoveryHandlers(services, paths),
      ...windowHandlers(services, paths),
      ...careHandlers(services),
    },
    openFromSystem: async (path) => files.openPlan(await paths.add(path)),
  };
}

/** Files that the person has chosen: only these are read and written. */
class ChosenFiles {
  readonly paths: KnownPaths;
  readonly #services: Pick<Services, 'dialogs' | 'recents' | 'noteRecent'>;

  constructor(services: Pick<Services, 'dialogs' | 'recents' | 'noteRecent'>, paths: KnownPaths) {
    this.#services = services;
    this.paths = paths;
  }

  async openPlan(path: string): Promise<{ text: string; ref: FileRef }> {
    const opened = await openFile(path);
    await this.noteRecent(path);
    return opened;
  }

  /** The list is a convenience; failing to keep it must not fail the opening or saving. */
  async noteRecent(path: string): Promise<void> {
    this.#services.noteRecent?.(path);
    await unlessTrouble(() => this.#services.recents.add(path));
  }

  /** The path written to; null: the person cancelled. */
  async chooseAndWrite(
    suggestedName: string,
    kind: Parameters<typeof filtersToSave>[0],
    content: (path: string) => Promise<string | Uint8Array>,
  ): Promise<string | null> {
    const chosen = await this.#services.dialogs.saveFile(suggestedName, filtersToSave(kind));
    if (chosen === null) return null;
    const path = await this.paths.add(chosen);
    await writeFileAt(path, await content(path));
    return path;
  }
}

/** Plans opened and saved. */
function planHandlers(
  { dialogs, recents, recovery }: Services,
  files: ChosenFiles,
): Pick<Handlers, 'open' | 'openRecent' | 'recentPlans' | 'save' | 'saveAs'> {
  return {
    async open({ kind }) {
      const chosen = await dialogs.openFile(filtersToOpen(kind));
      if (chosen === null) return null;
      const path = await files.paths.add(chosen);
      return kind === 'plan'
        ? files.openPlan(path)
        : openFile(path, { anyEncoding: true, workbooks: kind === 'records' });
    },
    async openRecent({ ref }) {
      const listed = (await recents.list()).some((entry) => entry.path === ref.key);
      if (!listed) throw new FileTrouble(`${ref.key}: is not in the list of recent plans`);
      return files.openPlan(await files.paths.addKept(ref.key));
    },
    async recentPlans() {
      const entries = await recents.list();
      return entries.map(({ path, openedAt }) => ({ ref: refOf(path, null), openedAt }));
    },
    async save({ ref, text, copy }) {
      // Asked for at once: the copy of an edit that comes later must come later here, too.
      const upTo = files.paths.has(ref.key)
        ? recovery.keepUpTo(copy, text, ref)
        : Promise.resolve();
      // A copy that cannot be kept is no reason not to save.
      await unlessTrouble(() => upTo);
      const path = await files.paths.check(ref.key);
      const theirs = await writeUnlessChanged(ref, text);
      if (theirs) return { kind: 'changed', theirs };
      const saved = refOf(path, fingerprint(text));
      await unlessTrouble(() => recovery.saved(copy, text, saved));
      await files.noteRecent(path);
      return { kind: 'saved', ref: saved };
    },
    async saveAs({ suggestedName, text, copy }) {
      const path = await files.chooseAndWrite(suggestedName, 'plan', async (chosen) => {
        await unlessTrouble(() => recovery.keepUpTo(copy, text, refOf(chosen, null)));
        return text;
      });
      if (path === null) return null;
      const saved = refOf(path, fingerprint(text));
      await unlessTrouble(() => recovery.saved(copy, text, saved));
      await files.noteRecent(path);
      return saved;
    },
  };
}

/** What leaves for a file or a printer. */
function paperHandlers(
  { printer }: Services,
  files: ChosenFiles,
): Pick<Handlers, 'exportText' | 'print' | 'savePdf'> {
  return {
    async exportText({ suggestedName, kind, text, bytes }) {
      const content = bytes ? Buffer.from(text, 'latin1') : text;
      return (
        (await files.chooseAndWrite(suggestedName, kind, () => Promise.resolve(content))) !== null
      );
    },
    async print({ html }) {
      await printer.print(html);
      return null;
    },
    async savePdf({ suggestedName, html, attachments = [] }) {
      const path = await files.chooseAndWrite(suggestedName, 'pdf', async () =>
        withAttachments(await printer.pdf(html), attachments),
      );
      return path === null ? 'cancelled' : 'saved';
    },
  };
}

/** Copies of unsaved work. */
function recoveryHandlers(
  { recovery }: Services,
  paths: KnownPaths,
): Pick<Handlers, 'keepForRecovery' | 'recoveries' | 'forgetRecovery'> {
  return {
    async keepForRecovery({ copy, text, ref }) {
      // After a restart the path counts as chosen, so only a chosen one is kept; the text always.
      await recovery.keep(copy, text, ref !== null && paths.has(ref.key) ? ref : null);
      return null;
    },
    async recoveries() {
      const found = await Promise.all(
        (await recovery.list()).map((copy) => withFile(copy, recovery, paths)),
      );
      return found.flatMap((copy) => copy ?? []);
    },
    async forgetRecovery({ copy }) {
      await recovery.forget(copy);
      return null;
    },
  };
}

/** What the window says of itself. */
function windowHandlers(
  services: Services,
  paths: KnownPaths,
): Pick<Handlers, 'holdFile' | 'setUnsaved' | 'listening' | 'workKept'> {
  return {
    holdFile: ({ ref }) =>
      services.openFiles.hold(ref !== null && paths.has(ref.key) ? ref.key : null),
    async setUnsaved({ unsaved }) {
      services.setUnsaved(unsaved);
      return null;
    },
    async listening() {
      services.onListening();
      return null;
    },
    async workKept() {
      services.onWorkKept();
      return null;
    },
  };
}

/** What went wrong and where things are. */
function careHandlers({
  errors,
  crashes,
  dataFolder,
}: Pick<Services, 'errors' | 'crashes' | 'dataFolder'>): Pick<Handlers, 'about' | 'noteError'> {
  return {
    about: async () => ({
      dataPlace: dataFolder,
      logPlace: errors.file,
      log: errors.text() + ((await crashes?.text()) ?? ''),
    }),
    async noteError({ details }) {
      errors.note(`window: ${details}`);
      return null;
    },
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
