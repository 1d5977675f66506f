import type {
  BrowserWindow,
  BrowserWindowConstructorOptions,
  IpcMain,
  IpcMainInvokeEvent,
  MessageBoxOptions,
  RenderProcessGoneDetails,
  Session,
  WebContents,
  WebFrameMain,
} from 'electron';
import type { Runtime } from '../../../electron/services/window/runtime';
import {
  Emits,
  preventable,
  type AppEvents,
  type ContentsEvents,
  type PowerEvents,
  type WindowEvents,
} from './events';

// Electron is not here. In its place stands what follows: its calls are held against Electron's own
// types by the compiler, its events come in the order of Electron's documentation. It proves what
// our side does; not that Electron does what it documents.

type Methods<T> = {
  [K in keyof T as K extends 'on' | 'once' ? never : K]: T[K];
};

type UsedOfContents = Methods<
  Pick<
    WebContents,
    'send' | 'isDestroyed' | 'isCrashed' | 'forcefullyCrashRenderer' | 'setWindowOpenHandler'
  >
>;
type UsedOfWindow = Methods<
  Pick<
    BrowserWindow,
    | 'show'
    | 'close'
    | 'destroy'
    | 'isDestroyed'
    | 'focus'
    | 'isMinimized'
    | 'restore'
    | 'loadURL'
    | 'setDocumentEdited'
  >
>;

class Contents extends Emits<ContentsEvents> implements UsedOfContents {
  crashed = false;
  /** What the page does with what the shell tells it. */
  page: (event: string, payload: unknown) => void = () => undefined;

  constructor(private readonly note: (words: string) => void) {
    super();
  }

  send(event: string, payload: unknown): void {
    this.note(`tell ${event}`);
    this.page(event, payload);
  }

  isDestroyed(): boolean {
    return false;
  }

  isCrashed(): boolean {
    return this.crashed;
  }

  crash(reason: RenderProcessGoneDetails['reason'] = 'crashed'): void {
    this.crashed = true;
    this.tell('render-process-gone', preventable(), { reason, exitCode: 5 });
  }

  /** False: that it has gone is not told. */
  tellsOfKill = true;

  forcefullyCrashRenderer(): void {
    this.note('kill page');
    if (this.tellsOfKill) this.crash('killed');
  }

  setWindowOpenHandler(): void {
    this.note('confined');
  }
}

class Window extends Emits<WindowEvents> implements UsedOfWindow {
  readonly webContents: Contents;
  visible = false;
  minimized = false;

  constructor(private readonly electron: ElectronStandIn) {
    super();
    this.webContents = new Contents(electron.note);
    electron.note('window');
    electron.windows.push(this);
    electron.app.tell(
      'web-contents-created',
      preventable(),
      this.webContents as unknown as WebContents,
    );
  }

  show(): void {
    if (this.isDestroyed()) throw new TypeError('Object has been destroyed');
    if (!this.visible) this.electron.note('show');
    this.visible = true;
  }

  focus(): void {
    this.electron.note('focus');
  }

  isMinimized(): boolean {
    return this.minimized;
  }

  restore(): void {
    this.minimized = false;
    this.electron.note('restore');
  }

  setDocumentEdited(): void {}

  /** What the page does when it is to be unloaded: it may hold that up, or never answer. */
  unload: 'goes' | 'stays' | 'hangs' = 'goes';

  /** `close` first, which may be prevented; then the page is asked; then the window is gone. */
  close(): void {
    const event = preventable();
    this.tell('close', event);
    if (event.defaultPrevented) {
      this.#inClose = true;
      setImmediate(() => (this.#inClose = false));
    }
    if (event.defaultPrevented || this.unload === 'hangs') return;
    if (this.unload === 'stays') {
      const letGo = preventable();
      this.webContents.tell('will-prevent-unload', letGo);
      if (!letGo.defaultPrevented) return;
    }
    this.destroy();
  }

  isDestroyed(): boolean {
    return !this.electron.windows.includes(this);
  }

  /** Electron runs what was promised before it goes on with its own part of the event. */
  #inClose = false;
  notInClose(): void {
    if (this.#inClose) throw new Error('the event `close` is not over yet');
  }

  destroy(): void {
    const { electron } = this;
    this.notInClose();
    electron.windows.splice(electron.windows.indexOf(this), 1);
    electron.note('closed');
    this.tell('closed');
    if (electron.windows.length === 0 && !electron.quitting) electron.app.tell('window-all-closed');
  }

  /** Navigation begins, the page is loaded, and what it draws is ready to be shown. */
  loadURL(url: string): Promise<void> {
    const { electron, webContents } = this;
    electron.note(`load ${url}`);
    webContents.crashed = false;
    webContents.tell('did-start-navigation', { isMainFrame: true, isSameDocument: false });
    if (electron.failsToLoad) {
      webContents.tell('did-fail-load', preventable(), -6, 'ERR_FILE_NOT_FOUND', url, true);
      return Promise.reject(new Error('ERR_FILE_NOT_FOUND (-6)'));
    }
    if (electron.drawsPages) queueMicrotask(() => this.tell('ready-to-show'));
    return Promise.resolve();
  }
}

type UsedOfApp = Methods<Runtime['app']>;

class AppStandIn extends Emits<AppEvents> implements UsedOfApp {
  isPackaged = true;

  constructor(private readonly electron: ElectronStandIn) {
    super();
  }

  requestSingleInstanceLock(): boolean {
    return this.electron.lock;
  }
  whenReady(): Promise<void> {
    return this.electron.ready;
  }
  getSystemLocale(): string {
    return 'de-AT';
  }
  getPath(): string {
    return this.electron.data;
  }
  enableSandbox(): void {
    this.electron.note(this.electron.isReady ? 'sandbox too late' : 'sandbox');
  }
  setAppUserModelId(id: string): void {
    this.electron.note(`known as ${id}`);
  }
  getVersion(): string {
    return this.electron.version;
  }
  disableHardwareAcceleration(): void {
    const late = this.electron.isReady ? ' too late' : '';
    this.electron.note(`no acceleration${late}`);
  }
  addRecentDocument(path: string): void {
    if (this.electron.brokenRecents) throw new TypeError('x is undefined');
    this.electron.note(`recent ${path}`);
  }
  exit(code?: number): void {
    this.electron.note(`exit ${code ?? 0}`);
  }

  /** `before-quit`, then every window closes; only if all did, the program ends. */
  quit(): void {
    const { electron } = this;
    for (const window of electron.windows) window.notInClose();
    electron.quitting = true;
    this.tell('before-quit', preventable());
    for (const window of [...electron.windows]) window.close();
    if (electron.windows.length > 0) electron.quitting = false;
    else electron.note('ended');
  }
}

/** Of a frame that is destroyed Electron throws on everything else. */
function frame(destroyed: boolean): UsedOfFrame {
  const known = <T>(value: T): T => {
    if (destroyed) throw new Error('Render frame was disposed before it could be accessed');
    return value;
  };
  return {
    isDestroyed: () => destroyed,
    get url() {
      return known('app://evenrack/index.html');
    },
    get origin() {
      return known('app://evenrack');
    },
    get parent() {
      return known(null);
    },
  };
}

type UsedOfFrame = Pick<WebFrameMain, 'isDestroyed' | 'url' | 'origin' | 'parent'>;
type Listener = Parameters<IpcMain['handle']>[1];

/** Electron as the shell sees it; writes down what is done. */
export class ElectronStandIn {
  readonly said: string[] = [];
  readonly asked: MessageBoxOptions[] = [];
  /** What the person answers in the next boxes, in order; a promise is waited for. */
  readonly answers: (number | Promise<number>)[] = [];
  /** What the person chooses in the next dialogues of files, in order; none cancels. */
  readonly chosen: string[] = [];
  readonly windows: Window[] = [];
  /** What windows were made with. */
  readonly options: BrowserWindowConstructorOptions[] = [];
  readonly listeners = new Map<string, Listener>();
  readonly note = (words: string): void => void this.said.push(words);
  readonly app = new AppStandIn(this);
  readonly power = new Emits<PowerEvents>();
  lock = true;
  version = '1.2.3';
  isReady = false;
  quitting = false;
  failsToLoad = false;
  drawsPages = true;
  brokenRecents = false;
  readonly ready: Promise<void>;
  becomeReady: () => void = () => undefined;

  constructor(readonly data: string) {
    this.ready = new Promise((resolve) => {
      this.becomeReady = () => {
        this.isReady = true;
        resolve();
      };
    });
  }

  /** The window that stands; fails where there is none. */
  get window(): Window {
    const [window] = this.windows;
    if (!window) throw new Error('no window is open');
    return window;
  }

  /** A message of the page to the shell, as the bridge sends it; `gone`: its frame is no more. */
  async invoke(
    channel: string,
    request: unknown,
    { gone = false as boolean | 'destroyed', from = this.window } = {},
  ) {
    const senderFrame = gone === true ? null : frame(gone === 'destroyed');
    const event = { senderFrame, sender: from.webContents } as unknown as IpcMainInvokeEvent;
    return (await this.listeners.get(channel)?.(event, request)) as unknown;
  }

  runtime(): Runtime {
    const { note } = this;
    const make = (options: BrowserWindowConstructorOptions): Window => {
      this.options.push(options);
      return new Window(this);
    };
    const ask = async (options: MessageBoxOptions) => {
      this.asked.push(options);
      const answer = this.answers.shift();
      if (answer === undefined) throw new Error(`nobody expected: ${options.message}`);
      const aborted = new Promise<number>((resolve) =>
        options.signal?.addEventListener('abort', () => resolve(options.cancelId ?? 0)),
      );
      return { response: await Promise.race([answer, aborted]), checkboxChecked: false };
    };
    const session = (name: string) =>
      ({
        protocol: { handle: (scheme: string) => note(`${name}: protocol ${scheme}`) },
        setPermissionRequestHandler: () => note(`${name}: permissions`),
        setPermissionCheckHandler: () => undefined,
        setDevicePermissionHandler: () => undefined,
        setDisplayMediaRequestHandler: () => undefined,
        on: () => undefined,
        webRequest: { onBeforeRequest: () => note(`${name}: requests`) },
      }) as unknown as Session;
    return {
      app: this.app as unknown as Runtime['app'],
      BrowserWindow: function (options: BrowserWindowConstructorOptions) {
        return make(options);
      } as unknown as Runtime['BrowserWindow'],
      crashReporter: {
        start: ({ uploadToServer }) => note(`crash reports ${uploadToServer ? 'sent' : 'kept'}`),
      },
      dialog: {
        showErrorBox: (title, content) => note(`error box ${title}: ${content}`),
        showMessageBox: (first: unknown, second?: MessageBoxOptions) =>
          ask(second ?? (first as MessageBoxOptions)),
        showOpenDialog: () => {
          const path = this.chosen.shift();
          return Promise.resolve({ canceled: !path, filePaths: path ? [path] : [] });
        },
        showSaveDialog: () => {
          const filePath = this.chosen.shift() ?? '';
          return Promise.resolve({ canceled: filePath === '', filePath });
        },
      } satisfies Runtime['dialog'],
      ipcMain: { handle: (name, listener) => void this.listeners.set(name, listener) },
      Menu: {
        buildFromTemplate: () => null as never,
        setApplicationMenu: () => note('menu'),
      },
      powerMonitor: this.power as unknown as Runtime['powerMonitor'],
      protocol: {
        registerSchemesAsPrivileged: (schemes) => {
          if (this.isReady) note('schemes too late');
          note(`schemes ${schemes.map(({ scheme }) => scheme).join(' ')}`);
        },
        handle: (scheme) => note(`protocol ${scheme}`),
      },
      session: {
        defaultSession: session('default'),
        fromPartition: (name) => session(name),
      },
    };
  }
}
