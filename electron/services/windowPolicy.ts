import type { BrowserWindowConstructorOptions, Session, WebContents } from 'electron';
import { isOurs } from './appProtocol';

/** A page in the window has no more rights than one on the web, plus the bridge. */
export function windowOptions(preload: string): BrowserWindowConstructorOptions {
  return {
    width: 1440,
    height: 900,
    minWidth: 960,
    minHeight: 600,
    show: false,
    webPreferences: {
      preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
      spellcheck: false,
    },
  };
}

/** Documents to be printed come from the plan and run no script at all. */
export function printWindowOptions(): BrowserWindowConstructorOptions {
  return {
    show: false,
    webPreferences: {
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      javascript: false,
      partition: 'print',
    },
  };
}

/** Keeps the window on the app's own pages: nothing else is loaded, opened or embedded. */
export function confine(contents: Pick<WebContents, 'on' | 'setWindowOpenHandler'>): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  contents.on('will-navigate', (event) => {
    if (!isOurs(event.url)) event.preventDefault();
  });
  contents.on('will-attach-webview', (event) => event.preventDefault());
}

/** To copy at a click. The app needs no camera, no location and no other right that a page can ask for. */
const GRANTED = 'clipboard-sanitized-write';

export function confinePermissions(
  session: Pick<Session, 'setPermissionRequestHandler' | 'setPermissionCheckHandler'>,
): void {
  session.setPermissionRequestHandler((_contents, permission, decide) =>
    decide(permission === GRANTED),
  );
  session.setPermissionCheckHandler((_contents, permission) => permission === GRANTED);
}
