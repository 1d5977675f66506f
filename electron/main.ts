import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { app, BrowserWindow, dialog, ipcMain, Menu, protocol, session } from 'electron';
import type { EventPayload } from '../shared-types/ipc';
import type { EventName } from '../shared-types/ipcNames';
import { appScheme, homeUrl, isOurs, serveApp } from './services/appProtocol';
import type { Dialogs } from './services/dialogs';
import { troubleInWords, unlessTrouble } from './services/files/fileTrouble';
import { ErrorLog } from './services/errorLog';
import { createShellApi } from './services/handlers';
import { listenForRequests } from './services/ipc';
import { makeFolders } from './services/files/makeFolders';
import { menuTemplate } from './services/menu';
import { OpenFiles } from './services/openFiles';
import { exampleOnCommandLine, OpenRequests, planOnCommandLine } from './services/openRequests';
import { windowPrinter } from './services/printWindow';
import { Recents } from './services/recents';
import { Recovery } from './services/recovery';
import {
  confine,
  confinePermissions,
  printWindowOptions,
  windowOptions,
} from './services/windowPolicy';

// The outer shell: hands Electron to the services and holds the one window. Whatever can be wrong
// in an interesting way stands in services/, where it is tested without Electron.

const here = import.meta.dirname;
let window: BrowserWindow | null = null;
let unsaved = false;
const openRequests = new OpenRequests();

const dialogs: Dialogs = {
  async openFile(filters) {
    const options = { properties: ['openFile' as const], filters };
    const { filePaths } = window
      ? await dialog.showOpenDialog(window, options)
      : await dialog.showOpenDialog(options);
    return filePaths[0] ?? null;
  },
  async saveFile(suggestedName, filters) {
    const options = { defaultPath: suggestedName, filters };
    const { canceled, filePath } = window
      ? await dialog.showSaveDialog(window, options)
      : await dialog.showSaveDialog(options);
    return canceled || filePath === '' ? null : filePath;
  },
};

function tell<E extends EventName>(event: E, payload: EventPayload<E>): void {
  window?.webContents.send(event, payload);
}

function showWindow(example = ''): void {
  const created = new BrowserWindow(windowOptions(join(here, 'preload.cjs')));
  window = created;
  created.once('ready-to-show', () => created.show());
  created.webContents.on('did-start-navigation', ({ isMainFrame, isSameDocument }) => {
    if (isMainFrame && !isSameDocument) openRequests.pause();
  });
  created.on('close', (event) => {
    if (unsaved && !mayLoseChanges(created)) event.preventDefault();
  });
  created.on('closed', () => {
    openRequests.pause();
    window = null;
  });
  void created.loadURL(homeUrl + example);
}

function mayLoseChanges(owner: BrowserWindow): boolean {
  const stay = 0;
  const chosen = dialog.showMessageBoxSync(owner, {
    type: 'warning',
    message: 'The plan has changes that are not saved.',
    detail: 'A copy is kept; Evenrack offers it at the next start.',
    buttons: ['Stay', 'Close without saving'],
    defaultId: stay,
    cancelId: stay,
  });
  return chosen !== stay;
}

async function start(): Promise<void> {
  await app.whenReady();
  const data = app.getPath('userData');
  // Where it cannot be made, keeping the first recovery copy fails and says why.
  await unlessTrouble(() => makeFolders(data));
  const now = (): Date => new Date();
  const shell = createShellApi({
    dialogs,
    recents: new Recents(join(data, 'recent-plans.json'), now),
    recovery: new Recovery(join(data, 'recovery'), now, join(data, 'recovery.json')),
    openFiles: new OpenFiles(join(tmpdir(), `evenrack-open-${process.getuid?.() ?? 'here'}`)),
    printer: windowPrinter(() => new BrowserWindow(printWindowOptions()), tmpdir()),
    errors: new ErrorLog(join(data, 'errors.log'), now),
    dataFolder: data,
    onWorkKept: () => undefined,
    setUnsaved: (value) => {
      unsaved = value;
      window?.setDocumentEdited(value);
    },
    onListening: () => openRequests.listen((path) => void openFromSystem(path)),
  });
  async function openFromSystem(path: string): Promise<void> {
    try {
      tell('openRequest', await shell.openFromSystem(path));
    } catch (error) {
      tell('openFailed', troubleInWords(error));
    }
  }
  serveApp(protocol, join(here, '..', 'renderer'));
  confinePermissions(session.defaultSession);
  listenForRequests(ipcMain, shell.handlers, isOurs);
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(
      menuTemplate(process.platform === 'darwin', (action) => tell('menu', action)),
    ),
  );
  showWindow(exampleOnCommandLine(process.argv));
  app.on('activate', () => {
    if (!window) showWindow();
  });
}

if (app.requestSingleInstanceLock()) {
  // Must happen before Electron is ready.
  protocol.registerSchemesAsPrivileged([appScheme]);
  const named = planOnCommandLine(process.argv);
  if (named !== null) openRequests.ask(resolve(named));
  app.on('open-file', (event, path) => {
    event.preventDefault();
    openRequests.ask(path);
    if (app.isReady() && !window) showWindow();
  });
  app.on('web-contents-created', (_event, contents) => confine(contents));
  app.on('second-instance', (_event, argv, folder) => {
    const path = planOnCommandLine(argv);
    if (path !== null) openRequests.ask(resolve(folder, path));
    if (window?.isMinimized()) window.restore();
    window?.focus();
  });
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  start().catch((error: unknown) => {
    dialog.showErrorBox('Evenrack cannot start', troubleInWords(error));
    app.quit();
  });
} else {
  app.quit();
}
