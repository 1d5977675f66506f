import type {
  App,
  BrowserWindow,
  BrowserWindowConstructorOptions,
  CrashReporter,
  Details,
  Dialog,
  IpcMain,
  Menu,
  PowerMonitor,
  Protocol,
  RenderProcessGoneDetails,
  Session,
} from 'electron';

/** As much of Electron as the shell uses, by Electron's own types. Handed in by `main.ts`. */
export interface Runtime {
  readonly app: Pick<
    App,
    | 'addRecentDocument'
    | 'disableHardwareAcceleration'
    | 'enableSandbox'
    | 'exit'
    | 'getPath'
    | 'getSystemLocale'
    | 'getVersion'
    | 'isPackaged'
    | 'on'
    | 'quit'
    | 'requestSingleInstanceLock'
    | 'setAppUserModelId'
    | 'whenReady'
  >;
  readonly BrowserWindow: new (options: BrowserWindowConstructorOptions) => BrowserWindow;
  readonly crashReporter: Pick<CrashReporter, 'start'>;
  readonly dialog: Pick<
    Dialog,
    'showErrorBox' | 'showMessageBox' | 'showOpenDialog' | 'showSaveDialog'
  >;
  readonly ipcMain: Pick<IpcMain, 'handle'>;
  readonly Menu: Pick<typeof Menu, 'buildFromTemplate' | 'setApplicationMenu'>;
  readonly powerMonitor: Pick<PowerMonitor, 'on'>;
  readonly protocol: Pick<Protocol, 'handle' | 'registerSchemesAsPrivileged'>;
  readonly session: { readonly defaultSession: Session; fromPartition(name: string): Session };
}

export type GoneReason = RenderProcessGoneDetails['reason'];
export type ChildProcessGoneDetails = Pick<Details, 'type' | 'reason' | 'exitCode' | 'name'>;
