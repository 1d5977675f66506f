import type { BrowserWindow, WebContents } from 'electron';
import type { EventPayload } from '../../../shared-types/window/ipc';
import type { EventName } from '../../../shared-types/window/ipcNames';
import { homeUrl } from './appProtocol';
import { Closing } from './closing';
import type { OpenRequests } from './openRequests';
import type { Runtime } from './runtime';
import { Troubles, type TroubleNeeds, type TroubleQuestion } from './troubles';
import { windowOptions } from './windowPolicy';

/** A page that is not ready by then is shown as it is, so that nobody waits for nothing. */
const SHOWN_AT_LATEST_MS = 10_000;

export interface WindowNeeds {
  readonly runtime: Pick<Runtime, 'app' | 'BrowserWindow' | 'dialog'>;
  readonly preload: string;
  readonly openRequests: OpenRequests;
  onShown(): void;
  readonly graphics: TroubleNeeds['graphics'];
  note(details: string): void;
  after(ms: number, run: () => void): () => void;
  now(): number;
}

/** The one window of the app: shown, closed and brought back when its page is in trouble. */
export class AppWindow {
  #window: BrowserWindow | null = null;
  #begun = false;
  #example = '';
  readonly closing: Closing;
  readonly troubles: Troubles;

  constructor(private readonly needs: WindowNeeds) {
    const { runtime, after, note, now, graphics } = needs;
    this.closing = new Closing({
      // A page that does not listen yet has nothing to keep.
      keepNow: () => needs.openRequests.isHeard && this.tell('keepNow', null),
      mayLoseChanges: () => this.#mayLoseChanges(),
      mayLeaveUnheard: () => this.#mayLeaveUnheard(),
      after,
      close: () => this.#window?.close(),
      destroy: () => this.#window?.destroy(),
      quit: () => runtime.app.quit(),
    });
    this.troubles = new Troubles({
      note,
      now,
      graphics,
      ask: (question, end) => this.#ask(question, end),
      show: () => this.#window?.show(),
      load: () => this.#load(),
      kill: () => this.#window?.webContents.forcefullyCrashRenderer(),
      quit: () => void this.closing.endWithoutAsking(),
    });
  }

  get browserWindow(): BrowserWindow | null {
    return this.#window;
  }

  /** Whether a message comes from this window; its frame may have gone since it was sent. */
  isSender(contents: WebContents): boolean {
    return this.#window?.webContents === contents;
  }

  /** Opens the first window: from now on there are pages to show, and any wish for a window counts. */
  begin(example: string): void {
    this.#begun = true;
    this.#example = example;
    this.open();
  }

  /** Opens the window, or brings it to the front. */
  open(): void {
    if (!this.#begun) return;
    const open = this.#window;
    if (open) {
      if (open.isMinimized()) open.restore();
      open.show();
      open.focus();
      return;
    }
    const { runtime, preload } = this.needs;
    const options = windowOptions(preload, { devTools: !runtime.app.isPackaged });
    const created = new runtime.BrowserWindow(options);
    this.#window = created;
    this.#listen(created);
    this.#load();
  }

  /** False: nobody is there to hear it. */
  tell<E extends EventName>(event: E, payload: EventPayload<E>): boolean {
    const contents = this.#window?.webContents;
    if (!contents || contents.isDestroyed() || contents.isCrashed()) return false;
    contents.send(event, payload);
    return true;
  }

  setUnsaved(unsaved: boolean): void {
    this.closing.setUnsaved(unsaved);
    this.#window?.setDocumentEdited(unsaved);
  }

  #listen(created: BrowserWindow): void {
    const { openRequests, onShown, after } = this.needs;
    const show = (): void => {
      created.show();
      onShown();
    };
    const stopWaiting = after(SHOWN_AT_LATEST_MS, show);
    created.once('ready-to-show', () => {
      stopWaiting();
      show();
    });
    created.on('close', (event) => this.closing.onClose(event));
    created.on('closed', () => {
      stopWaiting();
      openRequests.pause();
      this.#window = null;
      this.closing.onClosed();
    });
    created.on('unresponsive', () => {
      if (!this.closing.isLeaving) void this.troubles.unresponsive();
    });
    created.on('responsive', () => this.troubles.responsive());
    // Windows ends the session, and waits where it is told to. Once it has ended nothing can be done.
    created.on('query-session-end', (event) => this.closing.onSessionEnd(event));
    created.on('session-end', () => this.closing.keepNow());
    const contents = created.webContents;
    contents.on('did-start-navigation', ({ isMainFrame, isSameDocument }) => {
      if (!isMainFrame || isSameDocument) return;
      openRequests.pause();
      this.closing.pageGone();
    });
    contents.on('render-process-gone', (_event, details) => {
      openRequests.pause();
      if (created.isDestroyed()) return;
      this.setUnsaved(false);
      this.closing.pageGone();
      void this.troubles.pageGone(details);
    });
    contents.on('did-fail-load', (_event, code, description, _url, isMainFrame) => {
      if (isMainFrame) void this.troubles.loadFailed(code, description);
    });
    contents.on('preload-error', (_event, _path, error) => void this.troubles.bridgeFailed(error));
  }

  /** What fails in it is told by `did-fail-load`. */
  #load(): void {
    // The page itself knows the language of the app, not the place that the system is set to.
    const region = encodeURIComponent(this.needs.runtime.app.getSystemLocale());
    const window = this.#window;
    if (!window || window.isDestroyed()) return;
    const loading = window.loadURL(`${homeUrl}?region=${region}${this.#example}`);
    // Opened again, the kept work is what counts.
    this.#example = '';
    loading.catch((_told: unknown) => undefined);
  }

  async #mayLoseChanges(): Promise<boolean> {
    const answer = await this.#ask({
      message: 'The plan has changes that are not saved.',
      detail: 'A copy is kept; Evenrack offers it at the next start.',
      answers: ['Stay', 'Close without saving'],
    });
    return answer === 1;
  }

  async #mayLeaveUnheard(): Promise<boolean> {
    const answer = await this.#ask({
      message: 'The window does not answer.',
      detail:
        'It may be busy. Every edit up to two seconds before is kept; Evenrack offers it at the next start.',
      answers: ['Wait', 'Close without waiting'],
    });
    return answer === 1;
  }

  async #ask(question: TroubleQuestion, end?: AbortSignal): Promise<number | null> {
    const { dialog } = this.needs.runtime;
    // Before the first window boxes cannot be had, but for this one.
    if (!this.#begun) {
      dialog.showErrorBox(question.message, question.detail);
      return 0;
    }
    const options = {
      type: 'warning' as const,
      title: 'Evenrack',
      message: question.message,
      detail: question.detail,
      buttons: [...question.answers],
      // Escape and the key that is struck by mistake lose nothing.
      defaultId: 0,
      cancelId: 0,
      noLink: true,
      ...(end ? { signal: end } : {}),
    };
    const { response } = this.#window
      ? await dialog.showMessageBox(this.#window, options)
      : await dialog.showMessageBox(options);
    return end?.aborted ? null : response;
  }
}
