import { dirname, join } from 'node:path';
import { CrashReports } from '../crashReports';
import { ErrorLog } from '../errorLog';
import { isFileTrouble, troubleInWords, unlessTrouble } from '../files/fileTrouble';
import { makeFolders } from '../files/makeFolders';
import { Graphics } from '../graphics';
import { createShellApi, type ShellApi } from '../handlers';
import { OpenFiles } from '../openFiles';
import { Recents } from '../recents';
import { Recovery } from '../recovery';
import type { StartSign } from '../startSign';
import { appScheme, isOurs, serveApp } from './appProtocol';
import { AppWindow } from './appWindow';
import { fileDialogs } from './dialogs';
import { listenForRequests } from './ipc';
import { menuTemplate } from './menu';
import { exampleOnCommandLine, OpenRequests, planOnCommandLine } from './openRequests';
import { printScheme, printSession, printWindowOptions, windowPrinter } from './printWindow';
import type { Runtime } from './runtime';
import { appPermissions, confine, confineSession, isInPage } from './windowPolicy';

export interface ShellPlace {
  /** Where the bundled main file stands. */
  readonly here: string;
  readonly temp: string;
  readonly platform: NodeJS.Platform;
  readonly argv: readonly string[];
  readonly folder: string;
  readonly user: number | string;
  tellStart(sign: StartSign): void;
  onFault(hear: (error: unknown) => void): void;
}

const appId = 'org.evenrack.app';

/**
 * Runs the desktop shell on Electron. What must happen before Electron is ready happens at once; a
 * second start hands over to the first and ends.
 */
export function runShell(runtime: Runtime, place: ShellPlace): void {
  const { app, crashReporter, dialog, protocol } = runtime;
  if (!app.requestSingleInstanceLock()) {
    place.tellStart('handedOver');
    app.quit();
    return;
  }
  // Reports of crashes stay on this computer.
  crashReporter.start({ uploadToServer: false });
  protocol.registerSchemesAsPrivileged([appScheme, printScheme]);
  app.enableSandbox();
  const graphics = new Graphics(
    join(app.getPath('userData'), 'graphics-off.txt'),
    app.getVersion(),
  );
  if (graphics.isOff) app.disableHardwareAcceleration();
  if (place.platform === 'win32') app.setAppUserModelId(appId);
  const errors = new ErrorLog(join(app.getPath('userData'), 'errors.log'), () => new Date());
  const openRequests = new OpenRequests();
  const window = new AppWindow({
    runtime,
    preload: join(place.here, 'preload.cjs'),
    openRequests,
    onShown: () => place.tellStart('shown'),
    graphics,
    note: (details) => errors.note(details),
    now: () => performance.now(),
    after: (ms, run) => {
      const timer = setTimeout(run, ms);
      return () => clearTimeout(timer);
    },
  });
  place.onFault((error) => void window.troubles.fault(error));
  followSystem(runtime, place, window, openRequests);
  start(runtime, place, window, openRequests, errors).catch((error: unknown) => {
    errors.note(`start: ${error instanceof Error ? (error.stack ?? '') : String(error)}`);
    place.tellStart('shown');
    dialog.showErrorBox('Evenrack cannot start', troubleInWords(error));
    // The code tells who started it that it came to nothing.
    app.exit(1);
  });
}

/** What the system asks: files to open, windows to show, an end. */
function followSystem(
  { app }: Runtime,
  { argv, folder, platform }: ShellPlace,
  window: AppWindow,
  openRequests: OpenRequests,
): void {
  const named = planOnCommandLine(argv, folder);
  if (named !== null) openRequests.ask(named);
  // On a Mac it may come before Electron is ready, for the file that the app is started with.
  app.on('open-file', (event, path) => {
    event.preventDefault();
    openRequests.ask(path);
    window.open();
  });
  app.on('second-instance', (_event, words, at) => {
    const path = planOnCommandLine(words, at);
    if (path !== null) openRequests.ask(path);
    window.open();
  });
  app.on('activate', () => window.open());
  app.on('web-contents-created', (_event, contents) => confine(contents));
  app.on('child-process-gone', (_event, details) => void window.troubles.helperGone(details));
  app.on('before-quit', () => window.closing.beginQuit());
  app.on('window-all-closed', () => {
    if (platform !== 'darwin') app.quit();
  });
}

async function start(
  runtime: Runtime,
  place: ShellPlace,
  window: AppWindow,
  openRequests: OpenRequests,
  errors: ErrorLog,
): Promise<void> {
  const { app, BrowserWindow, ipcMain, Menu, powerMonitor, protocol, session } = runtime;
  await app.whenReady();
  const shell: ShellApi = createShellApi({
    ...(await services(runtime, place, window, errors)),
    printer: windowPrinter(() => new BrowserWindow(printWindowOptions()), printSession(session)),
    onListening: () =>
      openRequests.listen((path) => (opening = opening.then(() => openFromSystem(path)))),
  });
  // One after the other: of several the last one stays open.
  let opening = Promise.resolve();
  async function openFromSystem(path: string): Promise<void> {
    try {
      const opened = await shell.openFromSystem(path);
      // Where the page has gone meanwhile, the next one hears of it once it listens.
      if (openRequests.isHeard) window.tell('openRequest', opened);
      else openRequests.ask(path);
    } catch (error) {
      if (isFileTrouble(error)) window.tell('openFailed', troubleInWords(error));
      else void window.troubles.fault(error);
    }
  }
  serveApp(protocol, join(place.here, '..', 'renderer'));
  confineSession(session.defaultSession, appPermissions, (url) => isOurs(url) || isDev(url));
  listenForRequests(ipcMain, shell.handlers, isOurs, (contents) => window.isSender(contents));
  const isMac = place.platform === 'darwin';
  const menu = menuTemplate(isMac, (action) => void window.tell('menu', action));
  Menu.setApplicationMenu(Menu.buildFromTemplate(menu));
  // The computer may not wake again, or wake without its drives.
  powerMonitor.on('suspend', () => window.closing.keepNow());
  powerMonitor.on('lock-screen', () => window.closing.keepNow());
  // Prevented, the end of the computer waits for ours. Electron's types leave the event out.
  powerMonitor.on('shutdown', (event?: Pick<Event, 'preventDefault'>) => {
    event?.preventDefault();
    void window.closing.endWithoutAsking();
  });
  window.begin(exampleOnCommandLine(place.argv));
}

/** What stands in the page itself, and the tools of a developer. */
const isDev = (url: string): boolean => isInPage(url) || url.startsWith('devtools:');

/** Where a dialogue begins before anything was chosen: beside the last plan, or among the documents. */
const foldersOf = (app: Runtime['app'], recents: Recents) => async (): Promise<string[]> => [
  ...(await recents.list()).slice(0, 1).map(({ path }) => dirname(path)),
  ...placeOf(app, 'documents'),
];

/** A folder of the system's by its name; none where the system knows none. */
function placeOf(app: Runtime['app'], name: 'documents' | 'crashDumps'): string[] {
  try {
    return [app.getPath(name)];
  } catch (error) {
    // Electron throws an error without a code.
    void error;
    return [];
  }
}

async function services(
  { app, dialog }: Runtime,
  { temp, user, platform }: ShellPlace,
  window: AppWindow,
  errors: ErrorLog,
) {
  const data = app.getPath('userData');
  // Where it cannot be made, keeping the first recovery copy fails and says why.
  await unlessTrouble(() => makeFolders(data));
  const now = (): Date => new Date();
  const recents = new Recents(join(data, 'recent-plans.json'), now);
  const crashes = new CrashReports(placeOf(app, 'crashDumps')[0] ?? data);
  void crashes.prune();
  return {
    errors,
    dataFolder: data,
    crashes,
    dialogs: fileDialogs(dialog, () => window.browserWindow, foldersOf(app, recents)),
    recents,
    recovery: new Recovery(join(data, 'recovery'), now, join(data, 'recovery.json')),
    openFiles: new OpenFiles(join(temp, `evenrack-open-${user}`)),
    setUnsaved: (value: boolean) => window.setUnsaved(value),
    onWorkKept: () => window.closing.workKept(),
    noteRecent(path: string) {
      // The lists of the dock and the task bar; elsewhere there are none.
      if (platform === 'darwin' || platform === 'win32') app.addRecentDocument(path);
    },
  };
}
